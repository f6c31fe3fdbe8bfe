//! Where an entry of a formula ends: just inside it is taken, just outside it is refused, by the
//! shape of the thing.

use feeds_core::formula::recipe::run;
use feeds_core::notebook::Recorded;

/// Formula, entries with the one that is asked, what is taken and what is refused.
type Bound = (&'static str, &'static str, &'static str, &'static str);

/// No cutter is wider than itself, no ridge higher than its ball, two marks of a round meet up to
/// its diameter, and a cutter runs inside of what is wider than it.
const BOUNDS: &[Bound] = &[
    ("engagement-angle", "D=6mm a_e={}", "5.999mm", "6.001mm"),
    (
        "engagement-angle",
        "D=6mm wall=inside wall_radius=3.5mm a_e={}",
        "3.499mm",
        "3.501mm",
    ),
    (
        "engagement-angle",
        "D=6mm wall=inside a_e=1mm wall_radius={}",
        "3.001mm",
        "2.999mm",
    ),
    ("corner-engagement", "D=6mm a_e={}", "2.999mm", "3.001mm"),
    (
        "chip-thickness",
        "D=6mm f_z=0.05mm a_e={}",
        "5.999mm",
        "6.001mm",
    ),
    ("cusp", "R=3mm step={}", "5.999mm", "6.001mm"),
    ("step-for-cusp", "R=3mm cusp={}", "2.999mm", "3.001mm"),
    ("roughness", "R=0.8mm pitch={}", "1.599mm", "1.601mm"),
    (
        "arc-feed",
        "side=inside D=6mm v_f=300mm/min wall_D={}",
        "6.001mm",
        "5.999mm",
    ),
    (
        "bore-engagement",
        "D_bore=10mm D=6mm D_hole={}",
        "9.999mm",
        "10.001mm",
    ),
    (
        "bore-engagement",
        "D_bore=10mm D_hole=7mm D={}",
        "9.999mm",
        "10.001mm",
    ),
    (
        "helix-entry",
        "D=6mm pitch=0.3mm depth=1mm D_hole={}",
        "6.001mm",
        "5.999mm",
    ),
    ("approach", "kind=side D=6mm a_e={}", "5.999mm", "6.001mm"),
    (
        "approach",
        "kind=centred-face D=6mm w={}",
        "5.999mm",
        "6.001mm",
    ),
    (
        "effective-diameter",
        "end=corner D=6mm a_p=1mm r_e={}",
        "2.999mm",
        "3.001mm",
    ),
];

fn given(formula: &str, entries: &str) -> Result<(), String> {
    let entries = entries.split_whitespace();
    let entries: Vec<(&str, &str)> = entries.filter_map(|entry| entry.split_once('=')).collect();
    let results = run(formula, &entries, &mut Recorded::default());
    results.map(|_| ()).map_err(|error| error.to_string())
}

#[test]
fn an_entry_is_taken_up_to_its_bound_and_not_beyond() {
    for (formula, entries, taken, refused) in BOUNDS {
        let at = |value: &str| given(formula, &entries.replace("{}", value));
        assert_eq!(at(taken), Ok(()), "{formula} {entries} {taken}");
        let said = at(refused).expect_err(formula);
        assert!(
            said.contains("mm is "),
            "{formula} {entries} {refused}: {said}"
        );
    }
}

/// Only a corner radius has a radius of its own, only a ball is tilted, and each kind of approach
/// takes its own width.
#[test]
fn an_entry_of_another_kind_is_refused() {
    for (formula, entries, more) in [
        (
            "effective-diameter",
            "end=square D=6mm a_p=1mm",
            "r_e=0.5mm",
        ),
        ("effective-diameter", "end=ball D=6mm a_p=1mm", "r_e=0.5mm"),
        (
            "effective-diameter",
            "end=square D=6mm a_p=1mm",
            "tilt=5deg",
        ),
        (
            "effective-diameter",
            "end=corner D=6mm a_p=1mm r_e=0.5mm",
            "tilt=5deg",
        ),
        ("approach", "kind=side D=6mm a_e=1mm", "w=2mm"),
        ("approach", "kind=centred-face D=6mm w=2mm", "a_e=1mm"),
        ("engagement-angle", "D=6mm a_e=1mm", "wall_radius=9mm"),
    ] {
        assert_eq!(given(formula, entries), Ok(()), "{formula} {entries}");
        let said = given(formula, &format!("{entries} {more}")).expect_err(formula);
        let key = more.split('=').next().unwrap();
        assert!(said.contains(key), "{formula} {entries} {more}: {said}");
    }
}
