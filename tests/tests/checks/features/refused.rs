//! Sizes that no feature can have: the field, the value, what would be right.

use feeds_core::feature::{Feature, FeatureKind};

/// Kind, what is typed, the field that is wrong, what is said of it.
type Row = (
    FeatureKind,
    &'static str,
    &'static str,
    &'static [&'static str],
);

const ROWS: &[Row] = &[
    (
        FeatureKind::Pocket,
        "length=20mm width=12mm depth=3mm corner=7mm",
        "corner",
        &["7 mm", "0.1 mm and 6 mm", "half the width"],
    ),
    (
        FeatureKind::Pocket,
        "length=12mm width=20mm depth=3mm corner=2mm",
        "width",
        &["20 mm", "12 mm", "the other way round"],
    ),
    (
        FeatureKind::Slot,
        "length=28mm width=3.2mm depth=9.5mm",
        "closed",
        &["is needed", "one"],
    ),
    (
        FeatureKind::Slot,
        "length=28mm width=3.2mm depth=9.5mm closed=left",
        "closed",
        &["«left»", "none, one, both"],
    ),
    (
        FeatureKind::Slot,
        "length=28mm width=3.2mm depth=0mm closed=one",
        "depth",
        &["0 mm", "0.01 mm and 100 mm"],
    ),
    (
        FeatureKind::Slot,
        "length=28mm width=3.2 depth=9.5mm closed=one",
        "width",
        &["no unit"],
    ),
    (
        FeatureKind::Slot,
        "length=28mm width=3.2mm depth=9.5mm closed=one corner=1mm",
        "corner",
        &["no size «corner»"],
    ),
    (
        FeatureKind::Bore,
        "diameter=6mm hole=8mm depth=5mm",
        "hole",
        &["8 mm", "6 mm", "wider than the hole"],
    ),
    (
        FeatureKind::Surface,
        "length=34mm width=16mm radius=7mm cusp=5um",
        "radius",
        &["7 mm", "8 mm or more"],
    ),
    (
        FeatureKind::Bore,
        "diameter=6mm hole=6mm depth=5mm",
        "hole",
        &["as wide as the bore", "nothing is left"],
    ),
    (
        FeatureKind::Surface,
        "length=34mm width=16mm radius=40mm",
        "cusp",
        &["is needed", "5 um"],
    ),
    (
        FeatureKind::Surface,
        "length=34mm width=16mm radius=40mm cusp=5um roughness=1.6um",
        "roughness",
        &["the same as cusp", "leave one"],
    ),
    // A circle of 200 mm2 is 50.13 mm around, 7.979 mm in radius.
    (
        FeatureKind::AreaPocket,
        "area=200mm2 perimeter=40mm inside=2mm depth=2mm",
        "perimeter",
        &["40 mm", "200 mm2", "50.13 mm", "circle"],
    ),
    (
        FeatureKind::AreaPocket,
        "area=200mm2 perimeter=60mm inside=9mm depth=2mm",
        "inside",
        &["9 mm", "7.979 mm"],
    ),
    (
        FeatureKind::RoundPocket,
        "diameter=5mm depth=2mm drilled=6mm",
        "drilled",
        &["6 mm", "5 mm", "inside"],
    ),
    (
        FeatureKind::Outside,
        "length=90mm height=6mm width=2mm wall=2mm",
        "wall",
        &["2 mm", "0.001 mm and 1 mm"],
    ),
];

#[test]
fn impossible_sizes_are_refused_with_what_would_be_right() {
    for (kind, typed, field, says) in ROWS {
        let pairs: Vec<(&str, &str)> = typed
            .split(' ')
            .map(|pair| pair.split_once('=').unwrap())
            .collect();
        let errors = Feature::read(*kind, &pairs).unwrap_err();
        let [error] = &errors[..] else {
            panic!("{typed}: {errors:?}");
        };
        assert_eq!(error.field(), Some(*field), "{typed}");
        for word in *says {
            let said = error.to_string();
            assert!(said.contains(word), "{typed}: «{said}» lacks «{word}»");
        }
    }
}

#[test]
fn every_size_that_is_missing_is_told() {
    for kind in FeatureKind::ALL {
        let errors = Feature::read(kind, &[]).unwrap_err();
        let needs = kind.needs().count() + usize::from(kind == FeatureKind::Slot);
        assert_eq!(errors.len(), needs, "{}", kind.word());
    }
}
