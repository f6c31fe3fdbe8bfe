//! Wrong entries get a clear answer: the entry, its value, and what would be right.

use feeds_core::formula::recipe::run;
use feeds_core::notebook::Recorded;

/// Formula, entries, and what the answer has to say.
type Refusal = (&'static str, &'static str, &'static [&'static str]);

/// What `{cut}` stands for.
const CUT: &str = "D=6mm z=4 helix=30deg a_p=3mm f_z=0.03mm n=4400rpm";

const REFUSED: &[Refusal] = &[
    (
        "cuting-speed",
        "",
        &["there is no formula «cuting-speed»", "«cutting-speed»?"],
    ),
    (
        "cutting-speed",
        "D=6mm N=4400rpm",
        &["there is no entry «N»", "«n»?"],
    ),
    ("feed-speed", "fzz=0.1mm", &["«f_z»?"]),
    ("cutting-speed", "D=6mm D=7mm n=1rpm", &["D: appears twice"]),
    (
        "feed-speed",
        "z=4",
        &["f_z, feed per tooth, for example f_z=0.03mm", "n=4400rpm"],
    ),
    (
        "feed-speed",
        "f_z=0.1mm z=2.5 n=1rpm",
        &["z: «2.5» is not a whole number"],
    ),
    (
        "cutting-speed",
        "D=6 n=1rpm",
        &["D: «6» has no unit: add one of mm"],
    ),
    (
        "cutting-speed",
        "D=6rpm n=1rpm",
        &["D: «rpm» measures a spindle speed"],
    ),
    (
        "cutting-speed",
        "D=0 n=1rpm",
        &["D: 0 mm is not between 0.01 mm and 1000 mm: "],
    ),
    (
        "cutting-speed",
        "D=-6mm n=1rpm",
        &["D: -6 mm is not between"],
    ),
    (
        "engagement-angle",
        "D=6mm a_e=7mm",
        &[
            "a_e: 7 mm is more than D = 6 mm",
            "no cutter cuts wider than itself",
        ],
    ),
    (
        "chip-thickness",
        "D=6mm a_e=7mm f_z=0.1mm",
        &[
            "a_e: 7 mm is more than D = 6 mm",
            "no cutter cuts wider than itself",
        ],
    ),
    (
        "engagement-angle",
        "D=6mm a_e=1mm wall=inside",
        &["wall_radius: is needed"],
    ),
    (
        "engagement-angle",
        "D=6mm a_e=1mm wall_radius=9mm",
        &["wall=inside or wall=outside"],
    ),
    (
        "engagement-angle",
        "D=6mm a_e=1mm wall=in wall_radius=9mm",
        &["inside, outside"],
    ),
    (
        "engagement-angle",
        "D=6mm a_e=1mm wall=inside wall_radius=3mm",
        &["D: 6 mm is not less than 2 · wall_radius = 6 mm"],
    ),
    (
        "corner-engagement",
        "D=6mm a_e=4mm",
        &["a_e: 4 mm is more than D/2 = 3 mm"],
    ),
    ("feed-for-chip", "D=6mm a_e=1mm", &["h_max: is needed"]),
    (
        "feed-for-chip",
        "D=6mm a_e=1mm h_max=1um h_m=1um",
        &["h_m: is not used here"],
    ),
    (
        "effective-diameter",
        "D=6mm a_p=1mm end=corner",
        &["r_e: is needed"],
    ),
    (
        "effective-diameter",
        "D=6mm a_p=1mm end=corner r_e=4mm",
        &["r_e: 4 mm is more"],
    ),
    (
        "effective-diameter",
        "D=6mm a_p=1mm end=square tilt=5deg",
        &["tilt: is not used"],
    ),
    (
        "helix-entry",
        "D_hole=6mm D=6mm pitch=1mm depth=1mm",
        &["not less than D_hole = 6 mm"],
    ),
    (
        "bore-engagement",
        "D_bore=9mm D_hole=9mm D=6mm",
        &["D_hole: 9 mm is not less"],
    ),
    (
        "arc-feed",
        "side=inside wall_D=6mm D=6mm v_f=9mm/min",
        &["not less than wall_D"],
    ),
    (
        "cusp",
        "R=3mm step=7mm",
        &["step: 7 mm is more than 2 R = 6 mm"],
    ),
    (
        "specific-cutting-force",
        "kc11=2GPa mc=0.2 h=1mm rake=9deg",
        &["rake_ref", "1.5 %"],
    ),
    (
        "bending",
        "E=600 force=1N segments=1mmx1mm",
        &["E: «600» has no unit", "GPa"],
    ),
    (
        "bending",
        "E=600N force=1N segments=1mmx1mm",
        &["E: «N» measures a force"],
    ),
    (
        "bending",
        "E=600GPa force=1N segments=10mm",
        &["segments: «10mm» is not a pair"],
    ),
    (
        "bending",
        "E=600GPa force=1N segments=0mmx1mm",
        &["two values above zero"],
    ),
    (
        "bending",
        "E=600GPa force=1N segments=10mmx6mm load_from_tip=10mm",
        &["load_from_tip: 10 mm is not less than the stick-out = 10 mm"],
    ),
    (
        "turn-forces",
        "{cut} path=down kc11=2GPa mc=0.2 k_r=0.3",
        &["a_e: is needed"],
    ),
    (
        "turn-forces",
        "{cut} path=slot a_e=3mm kc11=2GPa mc=0.2 k_r=0.3",
        &["a_e: 3 mm is not D = 6 mm", "path=up"],
    ),
    ("turn-forces", "{cut} path=slot", &["needs the force law"]),
    (
        "turn-forces",
        "{cut} path=slot kc11=2GPa mc=0.2",
        &["k_r: is needed"],
    ),
    (
        "turn-forces",
        "{cut} path=slot kc11=2GPa mc=0.2 k_r=0.3 Ktc=1GPa",
        &["kc11: is not used here"],
    ),
    (
        "turn-forces",
        "{cut} path=slot Ktc=1GPa Krc=0.5GPa Kae=1N/mm",
        &["Kae: is not used here"],
    ),
    (
        "taylor-fit",
        "points=60m/min:30min",
        &["points: enter lives at two or more"],
    ),
    (
        "taylor-fit",
        "points=60m/min:30min,60m/min:20min",
        &["different speeds"],
    ),
    (
        "taylor-fit",
        "points=60m/min:30min,90m/min:40min",
        &["last longer"],
    ),
    (
        "tool-life-ratio",
        "n=0.25 v_ratio=2 x=0.5",
        &["f_ratio: is needed with x"],
    ),
];

#[test]
fn wrong_entries_get_a_clear_answer() {
    for (formula, entries, expected) in REFUSED {
        let entries = entries.replace("{cut}", CUT);
        let entries: Vec<(&str, &str)> = entries
            .split_whitespace()
            .filter_map(|entry| entry.split_once('='))
            .collect();
        let said = match run(formula, &entries, &mut Recorded::default()) {
            Ok(results) => panic!("{formula} {entries:?} gives {results:?}"),
            Err(error) => error.to_string(),
        };
        for expect in *expected {
            assert!(said.contains(expect), "{formula} {entries:?} said: {said}");
        }
    }
}
