//! Reading data files, with errors that name the row.

use crate::error::TableError;
use crate::tables::Tables;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

/// A file of rows: a list of them, or one beside what many of them say alike.
#[derive(Deserialize)]
#[serde(untagged)]
enum Rows {
    Plain(Vec<Value>),
    Filled {
        defaults: Vec<FileDefault>,
        rows: Vec<Value>,
    },
}

/// Keys that an object takes, as far as it lacks them, where it says `"as": "NAME"`.
#[derive(Deserialize)]
struct FileDefault {
    called: String,
    #[serde(flatten)]
    keys: Map<String, Value>,
}

/// Fills every object of a row that names a default; gives the name that no default has.
fn fill(value: &mut Value, defaults: &[FileDefault]) -> Result<(), String> {
    let inner: Vec<&mut Value> = match value {
        Value::Object(map) => {
            if let Some(name) = map.shift_remove("as") {
                let default = defaults.iter().find(|d| name == d.called.as_str());
                for (key, value) in &default.ok_or(name.to_string())?.keys {
                    map.entry(key.as_str()).or_insert_with(|| value.clone());
                }
            }
            map.values_mut().collect()
        }
        Value::Array(list) => list.iter_mut().collect(),
        _ => Vec::new(),
    };
    inner
        .into_iter()
        .try_for_each(|value| fill(value, defaults))
}

/// Reads a file that is one list of rows, with `defaults` beside it or not.
pub(crate) fn rows<T: DeserializeOwned>(
    file: &'static str,
    text: &str,
) -> Result<Vec<T>, TableError> {
    let (defaults, values) = match serde_json::from_str(text).map_err(|e| whole(file, &e))? {
        Rows::Plain(rows) => (Vec::new(), rows),
        Rows::Filled { defaults, rows } => (defaults, rows),
    };
    let read = |(i, mut value)| {
        let row = i + 1;
        let wrong = |what| TableError { file, row, what };
        fill(&mut value, &defaults)
            .map_err(|name| wrong(format!("no default is called {name}")))?;
        serde_json::from_value(value).map_err(|e| wrong(e.to_string()))
    };
    values.into_iter().enumerate().map(read).collect()
}

/// Reads a file of several named lists, one row a line.
pub(crate) fn lists<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, TableError> {
    serde_json::from_str(text).map_err(|e| TableError {
        file,
        row: e.line(),
        what: e.to_string(),
    })
}

fn whole(file: &'static str, error: &serde_json::Error) -> TableError {
    TableError {
        file,
        row: 0,
        what: error.to_string(),
    }
}

/// Every source, stock and layer that a row names must exist.
pub(crate) fn check_references(tables: &Tables) -> Result<(), TableError> {
    let lost = |file, row, what| Err(TableError { file, row, what });
    for row in tables.listing() {
        if row.title.is_empty() {
            let what = format!("{}: no source is called '{}'", row.subject, row.source);
            return lost(row.table, 0, what);
        }
    }
    let known = |id: &String| tables.materials.iter().any(|m| m.id == *id);
    for (i, material) in tables.materials.iter().enumerate() {
        for layer in &material.layers {
            if let Some(id) = layer
                .alternatives
                .iter()
                .chain([&layer.stock])
                .find(|id| !known(id))
            {
                return lost(
                    "materials.json",
                    i + 1,
                    format!("no stock is called '{id}'"),
                );
            }
        }
    }
    let scopes = tables.kienzle.iter().map(|r| ("kienzle.json", &r.scope));
    let scopes = scopes.chain(tables.speed.rows.iter().map(|r| ("speed.json", &r.scope)));
    let scopes = scopes.chain(tables.feed.iter().map(|r| ("feed.json", &r.scope)));
    let scopes = scopes.chain(
        tables
            .unit_power
            .iter()
            .map(|r| ("unit_power.json", &r.scope)),
    );
    for (file, scope) in scopes {
        if let Some(id) = scope.stocks.iter().find(|id| !known(id)) {
            return lost(file, 0, format!("no stock is called '{id}'"));
        }
    }
    crate::signs::check(tables)?;
    crate::force_law::check(tables)
}

#[cfg(test)]
mod tests {
    use super::{check_references, rows};
    use crate::sourced::{Figure, Sourced};
    use crate::tables::{Tables, tables};
    use feeds_core::quantity::{Quantity, Velocity};

    type Row = Sourced<Figure<Velocity>>;

    fn refused(row: &str) -> String {
        let good = r#"{"value": 1, "unit": "m/min", "source": "CP", "basis": "memory"}"#;
        let default = r#"{"called": "book", "source": "CP", "basis": "memory"}"#;
        let text = format!(r#"{{"defaults": [{default}], "rows": [{good}, {row}]}}"#);
        match rows::<Row>("speed.json", &text) {
            Ok(_) => String::new(),
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn a_row_without_source_or_basis_does_not_load() {
        let error = refused(r#"{"value": 1, "unit": "m/min", "basis": "memory"}"#);
        assert_eq!(error, "speed.json, row 2: missing field `source`");
        let error = refused(r#"{"value": 1, "unit": "m/min", "source": "CP"}"#);
        assert_eq!(error, "speed.json, row 2: missing field `basis`");
    }

    #[test]
    fn a_row_takes_what_it_lacks_from_the_default_it_names() {
        let file = |row: &str| {
            let default = r#"{"called": "book", "unit": "m/min", "source": "CP",
                "basis": "memory", "note": "a"}"#;
            rows::<Row>(
                "speed.json",
                &format!(r#"{{"defaults": [{default}], "rows": [{row}]}}"#),
            )
        };
        let row = &file(r#"{"value": 60, "note": "b", "as": "book"}"#).unwrap()[0];
        assert_eq!(row.value.least, Velocity::from_si(1.0));
        assert_eq!(
            (row.origin.source.as_str(), row.origin.note.as_str()),
            ("CP", "b")
        );
        let error = file(r#"{"value": 60, "as": "bok"}"#).unwrap_err();
        assert!(
            error.to_string().contains("no default is called \"bok\""),
            "{error}"
        );
    }

    /// What is wrong with the tables after a change.
    fn lost(change: impl Fn(&mut Tables)) -> String {
        let mut changed = tables().unwrap().clone();
        change(&mut changed);
        let error = check_references(&changed).err();
        error.map_or_else(String::new, |error| error.to_string())
    }

    #[test]
    fn what_a_row_names_has_to_be_there() {
        let nothing = || "nothing".to_owned();
        assert_eq!(lost(|_| ()), "");
        let error = lost(|t| t.kienzle[3].k_c1_1.origin.source = nothing());
        assert!(error.starts_with("kienzle: ") && error.ends_with("no source is called 'nothing'"));
        let layered = |t: &Tables| t.materials.iter().position(|m| !m.layers.is_empty());
        let row = layered(tables().unwrap()).unwrap();
        let error = lost(|t| t.materials[row].layers[0].stock = nothing());
        let right = format!(
            "materials.json, row {}: no stock is called 'nothing'",
            row + 1
        );
        assert_eq!(error, right);
        let error = lost(|t| t.materials[row].layers[0].alternatives = vec![nothing()]);
        assert_eq!(error, right);
        for error in [
            lost(|t| t.kienzle[0].scope.stocks.push(nothing())),
            lost(|t| t.speed.rows[0].scope.stocks.push(nothing())),
            lost(|t| t.feed[0].scope.stocks.push(nothing())),
            lost(|t| t.unit_power[0].scope.stocks.push(nothing())),
        ] {
            assert!(
                error.ends_with(".json: no stock is called 'nothing'"),
                "{error}"
            );
        }
    }

    #[test]
    fn a_sign_has_a_source_and_a_cause_and_a_cause_its_sign() {
        let error = lost(|t| t.signs.signs[1].origin.source = "nothing".to_owned());
        assert_eq!(error, "signs.json, row 2: no source is called 'nothing'");
        let error = lost(|t| {
            let name = t.signs.signs[1].name.clone();
            t.signs.causes.retain(|cause| cause.sign != name);
        });
        let name = &tables().unwrap().signs.signs[1].name;
        assert_eq!(error, format!("signs.json, row 2: {name} has no cause"));
        // Two of a sign, so that the sign keeps a cause.
        let of = |t: &Tables, at: usize| t.signs.causes[at].sign.clone();
        let t = tables().unwrap();
        let second = (1..t.signs.causes.len())
            .find(|at| of(t, *at) == of(t, at - 1))
            .unwrap();
        let error = lost(|t| t.signs.causes[second].sign = "nothing".to_owned());
        let right = format!(
            "signs.json, row {}: no sign is called 'nothing'",
            second + 1
        );
        assert_eq!(error, right);
    }

    #[test]
    fn a_unit_of_another_quantity_does_not_load() {
        let error = refused(r#"{"value": 1, "unit": "mm", "source": "CP", "basis": "memory"}"#);
        assert!(error.contains("row 2") && error.contains("'mm'"), "{error}");
    }

    #[test]
    fn a_figure_out_of_order_does_not_load() {
        let row = r#"{"min": 3, "max": 2, "unit": "m/min", "source": "CP", "basis": "memory"}"#;
        assert!(refused(row).contains("out of order"));
        let row = r#"{"min": 1, "max": 2, "start": 3, "unit": "m/min", "source": "CP",
            "basis": "memory"}"#;
        assert!(refused(row).contains("out of order"));
        let row = r#"{"min": 1, "unit": "m/min", "source": "CP", "basis": "memory"}"#;
        assert!(refused(row).contains("min and max"));
    }
}
