//! What a shell is offered and what a script reads: completions, the manual, errors as JSON.

use crate::shell::{folder, ran_line, text};
use serde_json::Value;
use std::path::Path;

/// What the program offers at the last word of a line.
fn offered(line: &[&str], home: &Path) -> Vec<String> {
    let quoted: Vec<String> = line.iter().map(|word| format!("'{word}'")).collect();
    let word = line.len() - 1;
    let line = format!("feeds completions --word {word} -- {}", quoted.join(" "));
    let output = ran_line(&line, home);
    assert!(output.status.success(), "{line}: {}", text(&output.stderr));
    text(&output.stdout).lines().map(str::to_owned).collect()
}

/// Friction 20: shells offered file names for stocks, cutters, paths and coatings.
#[test]
fn values_of_options_complete() {
    let home = folder("completions");
    ran_line(
        "feeds shop add cutter 'old stub' diameter=4mm edges=4",
        &home,
    );
    ran_line("feeds shop add stock 'last billet' stock=1095", &home);
    for (line, expected) in [
        (&["feeds", "cut", "--stock", "109"][..], "1095"),
        (&["feeds", "cut", "--stock", "last"], "last billet"),
        (&["feeds", "cut", "--cutter", ""], "old stub"),
        (
            &["feeds", "cut", "--cutter", "6"],
            "6 mm square, 4 edges, AlTiN carbide",
        ),
        (&["feeds", "cut", "--machine", "b"], "bench-5000"),
        (
            &["feeds", "cut", "--hold", ""],
            "vise, two smooth hard jaws",
        ),
        (&["feeds", "cut", "--path", "ball"], "ball-finish"),
        (&["feeds", "cut", "--path=ball"], "--path=ball-finish"),
        (&["feeds", "cut", "--direction", "cl"], "climb"),
        (&["feeds", "cut", "--coating", "al"], "altin"),
        (&["feeds", "cut", "--end", ""], "corner"),
        (&["feeds", "cut", "--intent", "p"], "production"),
        (&["feeds", "cut", "--entry", "h"], "helix"),
        (&["feeds", "cut", "--corner", ""], "yes"),
        (
            &["feeds", "cut", "--stock", "1018", "--condition", "hot"],
            "hot rolled",
        ),
        (
            &["feeds", "cut", "--stock", "last billet", "--condition", ""],
            "annealed",
        ),
        (&["feeds", "fastest", "--machine", "f"], "fast-24000"),
        (&["feeds", "rehearse", "--stand-in", "101"], "1018"),
        (&["feeds", "sheet", "j.json", "--stand-in", "101"], "1018"),
        (&["feeds", "audit", "a.nc", "--machine", "b"], "bench-5000"),
        (&["feeds", "formula", "feed-"], "feed-per-tooth"),
        (&["feeds", "listen", "sq"], "squeal"),
        (&["feeds", "shop", "show", "la"], "last billet"),
        (&["feeds", "man", "fo"], "formula"),
        (&["feeds", "cut", "--units", "i"], "inch"),
        (&["feeds", "cut", "--dep"], "--depth"),
        (&["feeds", "reh"], "rehearse"),
        // Entries typed as ENTRY=VALUE, and what each takes.
        (
            &["feeds", "shop", "add", "cutter", "x", "flu"],
            "flute-length=",
        ),
        (
            &["feeds", "shop", "add", "cutter", "x", "coating=al"],
            "coating=altin",
        ),
        (&["feeds", "shop", "change", "old", "end="], "end=corner"),
        (
            &["feeds", "job", "new", "j.json", "x", "stock=109"],
            "stock=1095",
        ),
        (
            &["feeds", "job", "add", "j.json", "x", "path=ball"],
            "path=ball-finish",
        ),
        (
            &["feeds", "job", "add", "j.json", "x", "depth-in"],
            "depth-in-all=",
        ),
        (
            &[
                "feeds",
                "job",
                "add",
                "j.json",
                "x",
                "stock=1018",
                "condition=hot",
            ],
            "condition=hot rolled",
        ),
        (&["feeds", "formula", "feed-per-tooth", "v"], "v_f="),
    ] {
        let found = offered(line, &home);
        assert!(found.iter().any(|f| f == expected), "{line:?}: {found:?}");
        let typed = line.last().unwrap();
        assert!(found.iter().all(|f| f.starts_with(typed)), "{found:?}");
    }
    let boxes = offered(&["feeds", "audit", "a.nc", "--stock", ""], &home);
    assert!(
        !boxes.iter().any(|name| name == "1095"),
        "a box is no stock"
    );
    let only = offered(
        &["feeds", "cut", "--stock", "1018", "--condition", ""],
        &home,
    );
    assert!(!only.iter().any(|name| name == "H900"), "{only:?}");
}

/// The script of bash itself, where there is a bash.
#[test]
fn bash_completes_names_with_spaces() {
    let home = folder("completions-bash");
    let ask = |words: &str, at: usize| {
        let script = format!(
            "feeds completions bash > c.bash; bash -c 'source ./c.bash; COMP_WORDS=({words}); \
             COMP_CWORD={at}; _feeds; printf \"%s\\n\" \"${{COMPREPLY[@]}}\"'"
        );
        text(&ran_line(&script, &home).stdout)
    };
    if ran_line("command -v bash", &home).stdout.is_empty() {
        return;
    }
    let found = ask("feeds cut --cutter \"6\\\\ mm\\\\ sq\"", 3);
    let name = "6\\ mm\\ square\\,\\ 4\\ edges\\,\\ AlTiN\\ carbide";
    assert!(
        found
            .lines()
            .any(|l| l.replace("\\,", ",") == name.replace("\\,", ",")),
        "{found}"
    );
    let found = ask("feeds cut --path = ba", 4);
    assert_eq!(found.trim(), "ball-finish");
    let found = ask("feeds job add j.json x path = ba", 7);
    assert_eq!(found.trim(), "ball-finish");
    let found = ask("feeds cut --coating al", 3);
    assert!(found.lines().any(|line| line == "altin"), "{found}");
}

/// Contract: `{"schema":1,"error":{"field","text","would_be_right"}}` on standard output, the exit
/// code as without it. The cause is what the sentence says, in one word.
#[test]
fn errors_are_json_where_json_is_asked_for() {
    let home = folder("errors-json");
    ran_line("feeds job new own.json own", &home);
    ran_line("echo '{' > broken.json", &home);
    for (line, field, right, cause) in [
        ("feeds cut", "diameter", "6 mm", "wanting"),
        (
            "feeds cut --diameter 6",
            "diameter",
            "mm, um, in, thou",
            "form",
        ),
        (
            "feeds cut --diameter 900mm",
            "diameter",
            "0.05 mm to 50 mm",
            "bound",
        ),
        (
            "feeds cut --diameter 6mm --edges 4 --depth 1mm --width 1mm --path nose",
            "path",
            "slot",
            "unknown",
        ),
        (
            "feeds cut --diameter 6mm --edges 4 --path slot --depth 1mm --stock marzipan",
            "stock",
            "",
            "unknown",
        ),
        ("feeds cut --nonsense 3", "--nonsense", "", "unknown"),
        ("feeds cut --units cubits", "--units", "inch", "unknown"),
        ("feeds ct", "ct", "cut", "unknown"),
        ("feeds fastest", "diameter", "6 mm", "wanting"),
        ("feeds rehearse", "", "", "wanting"),
        ("feeds listen moo", "", "", "unknown"),
        ("feeds formula cutting-sped", "", "cutting-speed", "unknown"),
        ("feeds formula cutting-speed D=6", "D", "mm", "form"),
        ("feeds audit none.nc", "", "", "no-file"),
        ("feeds tables marzipan", "", "", "unknown"),
        ("feeds practice --lesson none", "", "", "unknown"),
        ("feeds shop show none", "", "", "unknown"),
        ("feeds job show none.json", "", "", "no-file"),
        ("feeds job show broken.json", "", "", "no-file"),
        ("feeds job change own.json 7 depth=1mm", "", "", "unknown"),
        ("feeds sheet none.json", "", "", "no-file"),
        ("feeds completions fsh", "", "fish", "unknown"),
        ("feeds man formla", "", "formula", "unknown"),
    ] {
        let plain = ran_line(line, &home);
        let output = ran_line(&format!("{line} --json"), &home);
        let code = output.status.code();
        assert_eq!(code, plain.status.code(), "{line}");
        assert!(code >= Some(2), "{line}: {code:?}");
        assert!(output.stderr.is_empty(), "{line}: {}", text(&output.stderr));
        let json: Value = serde_json::from_slice(&output.stdout)
            .unwrap_or_else(|e| panic!("{line}: {e}: {}", text(&output.stdout)));
        assert_eq!(json["schema"], 1, "{line}");
        let error = json["error"].as_object().unwrap();
        let keys: Vec<&String> = error.keys().collect();
        assert_eq!(keys, ["field", "text", "would_be_right", "cause"], "{line}");
        assert!(!error["text"].as_str().unwrap().is_empty(), "{line}");
        let said = |key: &str| error[key].as_str().unwrap_or_default().to_owned();
        if !field.is_empty() {
            assert_eq!(said("field"), field, "{line}: {json}");
        }
        assert!(said("would_be_right").contains(right), "{line}: {json}");
        assert_eq!(said("cause"), cause, "{line}: {json}");
        assert_eq!(json["errors"][0], json["error"], "{line}");
    }
}

/// The page pointed to pages such as feeds-cut(1), which nobody installs.
#[test]
fn the_manual_names_what_is_installed() {
    let home = folder("manual");
    let page = text(&ran_line("feeds man", &home).stdout);
    assert!(!page.contains("(1)"), "{page}");
    for command in ["cut", "fastest", "sheet", "man"] {
        let own = text(&ran_line(&format!("feeds man {command}"), &home).stdout);
        assert!(own.contains(&format!("feeds\\-{command}")), "{own}");
        assert!(page.contains(&format!("feeds {command} ")), "{command}");
    }
}
