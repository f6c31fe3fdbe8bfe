//! A figure of the tables with its source, and the rows that were not taken.

use reference_tables::tables;

pub(crate) fn text() -> Result<String, Box<dyn std::error::Error>> {
    let tables = tables()?;
    let state = tables.state(tables.material("1095")?, Some("annealed"), None)?;
    let taken = tables.kienzle(&state)?;
    let origin = &taken.row.origin;
    let source = tables.source(&origin.source).ok_or("no source")?;
    let (printed, basis, kept) = (&taken.row.printed, origin.basis, taken.kept.len());
    Ok(format!(
        "{printed}: {source} [{basis}]; {kept} other rows\n"
    ))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    print!("{}", text()?);
    Ok(())
}
