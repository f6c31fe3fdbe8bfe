//! Which rows of the small tables are taken, against the data files read as plain JSON and the
//! rule in words: what fits, in which order, what is weak, and what is kept beside.

use feeds_core::cut::Path;
use feeds_core::cutter::CutterMaterial;
use feeds_core::quantity::{Length, Quantity, Ratio, in_mm, mm};
use reference_tables::choice::Choice;
use reference_tables::depth_width::MachineClass;
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::sourced::Band;
use reference_tables::state::StockState;
use reference_tables::{Tables, tables};
use serde_json::Value;

fn all() -> &'static Tables {
    tables().unwrap()
}

fn file(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

fn list(value: &Value) -> Vec<&Value> {
    value.as_array().unwrap().iter().collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}

fn yes(value: &Value) -> bool {
    value.as_bool().unwrap_or(false)
}

/// Least and most of a figure.
fn ends(figure: &Value) -> [f64; 2] {
    let single = figure["value"].as_f64();
    [&figure["min"], &figure["max"]].map(|end| single.or_else(|| end.as_f64()).unwrap())
}

/// Firm before weak, printed before memory before common practice.
fn rank(figure: &Value) -> (bool, usize) {
    let bases = ["printed", "memory", "common practice"];
    let basis = text(&figure["basis"]);
    let basis = bases.iter().position(|b| *b == basis);
    (yes(&figure["weak"]), basis.unwrap())
}

/// One state of each kind of stock: by its name, its condition and whether it is hardened.
fn states() -> Vec<(StockState<'static>, &'static str)> {
    [
        ("1018", "hot rolled", "mild steel"),
        ("1095", "annealed", "high-carbon steel"),
        ("304", "annealed", "austenitic stainless"),
        ("C260", "hard", "brass"),
    ]
    .map(|(stock, condition, class)| {
        let stock = all().material(stock).unwrap();
        (all().state(stock, Some(condition), None).unwrap(), class)
    })
    .into_iter()
    .chain(
        [
            ("1095", 60.0, "high-carbon steel"),
            ("D2", 58.0, "tool steel"),
        ]
        .map(|(stock, hrc, class)| {
            let stock = all().material(stock).unwrap();
            let hardness = reference_tables::hardness::Hardness::hrc(hrc);
            (all().state(stock, None, Some(hardness)).unwrap(), class)
        }),
    )
    .collect()
}

/// Depth and width: rows of the machine and the cut, of the class or of every stock, hardened ones
/// for hardened stock alone; hardened first, then the class, then firm, then the basis.
#[test]
fn depth_and_width_are_those_of_the_first_row_that_fits() {
    let data = file(include_str!(
        "../../../reference-tables/data/depth_width.json"
    ));
    let machines = [
        (MachineClass::Light, "light"),
        (MachineClass::Rigid, "rigid"),
    ];
    let cuts = [
        (CutKind::Slot, "slot"),
        (CutKind::Side, "side"),
        (CutKind::Finish, "finish"),
        (CutKind::Any, "any"),
    ];
    let (mut found, mut missing, mut several) = (0, 0, 0);
    for (state, class) in states() {
        let hardened = state.brinell.is_some_and(|hb| hb > 400.0);
        assert_eq!(state.hardened, hardened, "{}", state.words());
        for ((machine, word), (cut, path)) in machines
            .iter()
            .flat_map(|m| cuts.iter().map(move |c| (*m, *c)))
        {
            let mut rows = list(&data);
            rows.retain(|r| {
                let classes = r["classes"].as_array();
                let named = classes.is_some_and(|c| c.iter().any(|c| c == class));
                r["machine"] == word
                    && r["path"] == path
                    && (named || yes(&r["every_stock"]))
                    && (hardened || !yes(&r["hardened"]))
            });
            // The weaker of its two figures stands for a row.
            let figures = |r: &Value| {
                let both = [&r["a_p"], &r["a_e"]].into_iter().filter(|f| !f.is_null());
                both.map(rank).max().unwrap()
            };
            rows.sort_by_key(|r| (!yes(&r["hardened"]), yes(&r["every_stock"]), figures(r)));
            let told = all().depth_width(&state, machine, cut);
            let Some(first) = rows.first() else {
                missing += 1;
                let unknown = told.unwrap_err();
                assert!(unknown.needs.contains(&state.words()), "{unknown:?}");
                continue;
            };
            found += 1;
            several += usize::from(rows.len() > 1);
            let told = told.unwrap();
            let what = format!("{} {word} {path}", state.words());
            assert_eq!(told.row.subject, text(&first["subject"]), "{what}");
            assert_eq!(told.weak, figures(first).0, "{what}");
            assert!(!told.capped);
            for (figure, band) in [("a_p", told.value.a_p), ("a_e", told.value.a_e)] {
                let expect = Some(&first[figure]).filter(|f| !f.is_null()).map(ends);
                let got = band.map(|b| [b.least.si(), b.most.si()]);
                assert_eq!(got, expect, "{what} {figure}");
                assert_eq!(
                    told.row.printed.contains(figure),
                    expect.is_some(),
                    "{what}"
                );
            }
            let kept: Vec<&str> = told.kept.iter().map(|(_, r)| r.subject.as_str()).collect();
            let others: Vec<&str> = rows[1..].iter().map(|r| text(&r["subject"])).collect();
            assert_eq!(kept, others, "{what}");
        }
    }
    assert!(
        found > 20 && missing > 6 && several > 8,
        "{found} {missing} {several}"
    );
}

/// Edge radius: rows of the material, of its coating or of any, whose diameters hold it, ends
/// included; one that is planned with first. Between rows the band of both neighbours, weak.
#[test]
fn the_edge_radius_is_that_of_the_first_row_that_fits() {
    let data = file(include_str!(
        "../../../reference-tables/data/edge_radius.json"
    ));
    let rows = list(&data["rows"]);
    let kinds = [
        (CutterKind::COATED_CARBIDE, "carbide", "coated"),
        (CutterKind::UNCOATED_CARBIDE, "carbide", "uncoated"),
        (CutterKind::HSS, "HSS", "uncoated"),
    ];
    let um = |l: Length| in_mm(l) * 1e3;
    let near = |got: f64, expect: f64| (got - expect).abs() < 1e-9 * expect;
    let (mut inside, mut between, mut outside) = (0, 0, 0);
    let sizes = [
        0.05, 0.1, 0.3, 0.5, 1.0, 1.01, 2.0, 2.99, 3.0, 8.0, 12.0, 12.01, 25.0, 26.0,
    ];
    for ((kind, material, coating), d) in kinds
        .iter()
        .flat_map(|k| sizes.iter().map(move |d| (*k, *d)))
    {
        let own = |r: &Value| r["coating"] == coating || r["coating"] == "any";
        let of = |r: &Value| r["cutter"] == material && r["coating"] != "honed";
        let span = |r: &Value| ends(&r["diameter"]);
        let mut fit: Vec<&Value> = rows.iter().copied().filter(|r| of(r) && own(r)).collect();
        fit.retain(|r| span(r)[0] <= d && d <= span(r)[1]);
        fit.sort_by_key(|r| !yes(&r["planning"]));
        let told = all().edge_radius(kind, mm(d));
        let what = format!("{material} {coating} of {d} mm");
        if let Some(first) = fit.first() {
            inside += 1;
            let told = told.unwrap();
            let [least, most] = ends(&first["r_edge"]);
            assert!(
                near(um(told.value.least), least),
                "{what}: {:?}",
                told.value
            );
            assert!(near(um(told.value.most), most), "{what}: {:?}", told.value);
            assert_eq!(told.row.subject, text(&first["subject"]), "{what}");
            assert_eq!(told.weak, yes(&first["r_edge"]["weak"]), "{what}");
            let kept: Vec<&str> = told.kept.iter().map(|(_, r)| r.subject.as_str()).collect();
            let others: Vec<&str> = fit[1..].iter().map(|r| text(&r["subject"])).collect();
            assert_eq!(kept, others, "{what}");
            continue;
        }
        // The largest below, of its own coating and planned with where two are alike; above, the
        // smallest of its own coating.
        let carbide = rows.iter().copied().filter(|r| of(r));
        let below = carbide.clone().filter(|r| span(r)[1] < d).max_by(|a, b| {
            let fits = |r: &Value| (own(r), yes(&r["planning"]));
            span(a)[1]
                .total_cmp(&span(b)[1])
                .then(fits(a).cmp(&fits(b)))
        });
        let above = carbide.filter(|r| own(r) && span(r)[0] > d);
        let above = above.min_by(|a, b| span(a)[0].total_cmp(&span(b)[0]));
        let Some(high) = above else {
            outside += 1;
            let unknown = told.unwrap_err();
            let nearest = unknown.nearest.unwrap();
            assert!(
                nearest.starts_with(text(&below.unwrap()["subject"])),
                "{nearest}"
            );
            assert!(
                unknown.needs.contains(&format!("{d:.3} mm")),
                "{}",
                unknown.needs
            );
            continue;
        };
        between += 1;
        let told = told.unwrap();
        let low = below.unwrap_or(high);
        let ([a, b], [c, e]) = (ends(&low["r_edge"]), ends(&high["r_edge"]));
        let (least, most) = (a.min(c), b.max(e));
        assert!(
            near(um(told.value.least), least),
            "{what}: {:?}",
            told.value
        );
        assert!(near(um(told.value.most), most), "{what}: {:?}", told.value);
        assert!(near(um(told.value.start), 0.5 * (least + most)), "{what}");
        assert!(told.weak, "{what}");
        assert_eq!(told.row.subject, text(&high["subject"]), "{what}");
        let kept: Vec<&str> = told.kept.iter().map(|(_, r)| r.subject.as_str()).collect();
        let beside: Vec<&str> = below
            .iter()
            .chain([&high])
            .map(|r| text(&r["subject"]))
            .collect();
        assert_eq!(kept, beside, "{what}");
    }
    assert!(
        inside > 15 && between > 6 && outside > 3,
        "{inside} {between} {outside}"
    );
}

fn most(guide: Option<&Choice<Band<Ratio>>>) -> Option<f64> {
    guide.map(|g| g.value.most.si())
}

/// What is usual: the row of the path and the machine, of the edges, of the material, of the end.
#[test]
fn what_is_usual_is_the_row_for_it() {
    let data = file(include_str!("../../../reference-tables/data/guides.json"));
    let row = |table: &str, fits: &dyn Fn(&Value) -> bool| {
        let rows = list(&data[table]).into_iter().find(|r| fits(r));
        rows.map(|r| r["value"].as_f64().unwrap())
    };
    for (word, path) in Path::CHOICES {
        let on = |r: &Value| list(&r["paths"]).iter().any(|p| *p == word);
        for (machine, light) in [
            (MachineClass::Light, "light"),
            (MachineClass::Rigid, "rigid"),
        ] {
            let told = all().usual_depth(*path, machine);
            let expect = row("depth", &|r| on(r) && r["machine"] == light);
            assert_eq!(most(told.as_ref()), expect, "{word} {light}");
            assert!(expect.is_some() && told.unwrap().weak);
        }
        let (wide, deeper) = all().usual_width(*path);
        let expect = row("width", &|r| on(r) && r["deeper_than"].is_null());
        assert_eq!(most(wide.as_ref()), expect, "{word}");
        let rows = list(&data["width"]).into_iter();
        let deep = rows
            .into_iter()
            .find(|r| on(r) && !r["deeper_than"].is_null());
        let expect = deep.map(|r| (r["deeper_than"].as_f64(), r["value"].as_f64()));
        let got = deeper.map(|(beyond, choice)| (Some(beyond), most(Some(&choice))));
        assert_eq!(got, expect, "{word}");
    }
    for edges in [1, 2, 3, 4, 5, 12, 99] {
        let fits = |r: &Value| {
            let [least, last] = [0, 1].map(|i| r["edges"][i].as_u64().unwrap());
            least <= u64::from(edges) && u64::from(edges) <= last
        };
        assert_eq!(
            most(all().chip_room(edges).as_ref()),
            row("chip_room", &fits),
            "{edges}"
        );
    }
    assert_eq!(all().chip_room(100), None);
    for (material, word) in [
        (CutterMaterial::Carbide, "carbide"),
        (CutterMaterial::Hss, "HSS"),
    ] {
        let expect = row("stick_out", &|r| r["cutter"] == word);
        assert_eq!(most(all().usual_stick_out(material).as_ref()), expect);
    }
    for centre in [true, false] {
        let expect = row("steepest_entry", &|r| yes(&r["centre_cutting"]) == centre);
        let told = all()
            .steepest_entry(centre)
            .unwrap()
            .value
            .most
            .si()
            .to_degrees();
        assert!((told - expect.unwrap()).abs() < 1e-12, "{told}");
    }
    let corner = all().corner_engagement().unwrap().value.most.si();
    assert!((corner - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
}
