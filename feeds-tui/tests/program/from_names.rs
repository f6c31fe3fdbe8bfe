//! The program and the libraries put one pass together.

use feeds_core::cut::Path;
use feeds_core::quantity::mm;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::{TablesOnly, resolve};
use reference_tables::tables;

#[test]
fn the_program_and_the_tables_make_one_setup_of_one_pass() {
    let typed = Description::default().with(&[
        ("stock", "1095"),
        ("condition", "annealed"),
        ("cutter", "6 mm square, 4 edges, AlTiN carbide"),
        ("machine", "bench-5000"),
        ("hold", "vise"),
        ("path", "slot"),
        ("depth", "1 mm"),
    ]);
    let typed = resolve(&typed, &TablesOnly).unwrap_or_else(|e| panic!("{e:?}"));
    let named = tables().unwrap().pass().stock("1095").condition("annealed");
    let named = named.cutter("6 mm square, 4 edges, AlTiN carbide");
    let named = named.machine("bench-5000").hold("vise").path(Path::Slot);
    let named = named
        .depth(mm(1.0))
        .ready()
        .unwrap_or_else(|e| panic!("{e}"));
    let told: Vec<String> = named.cautions.iter().map(ToString::to_string).collect();
    assert_eq!((typed.guesses, typed.cautions), (named.guesses, told));
    let (mut typed, mut named) = (typed.setup, named.setup);
    // What was typed is told as typed; the symbols are the same, in one order.
    let symbols = |of: &feeds_core::plan::setup::Setup| -> Vec<&str> {
        of.origins.iter().map(|(symbol, _)| symbol.text).collect()
    };
    assert_eq!(symbols(&typed), symbols(&named));
    typed.origins.clear();
    named.origins.clear();
    assert_eq!(typed, named);
}
