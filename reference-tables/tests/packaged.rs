//! The packaged libraries, used by a crate outside the workspace as anybody would.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The crates that a user of the libraries takes, the one without dependencies first.
const CRATES: [&str; 2] = ["feeds-core", "reference-tables"];

fn workspace() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// What a command prints; panics with all it says where it fails.
fn printed(command: &mut Command) -> String {
    let output = command
        .output()
        .unwrap_or_else(|e| panic!("{command:?}: {e}"));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?}\n{said}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn cargo(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO"));
    printed(command.args(arguments).arg("--offline").current_dir(folder))
}

/// Packages, unpacks and builds: about a minute, so `.ci/run` asks for it by name.
#[test]
#[ignore = "packages and builds the libraries once more"]
fn the_first_example_builds_outside_from_the_packaged_sources() {
    let scratch = Path::new(env!("CARGO_TARGET_TMPDIR"));
    // Two runs at once take turns; what was built stays for neither.
    let turn = File::create(scratch.join("packaged.turn")).unwrap();
    turn.lock().unwrap();
    let folder = scratch.join("packaged");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("src")).unwrap();
    let mut package = vec!["package", "--no-verify", "--allow-dirty", "--quiet"];
    let target = folder.join("target");
    let target = target.to_str().unwrap();
    package.extend(["--target-dir", target]);
    package.extend(CRATES.iter().flat_map(|name| ["-p", name]));
    cargo(&workspace(), &package);

    let version = env!("CARGO_PKG_VERSION");
    let mut manifest = "[package]\nname = \"outside\"\nversion = \"1.0.0\"\nedition = \"2024\"\n\n\
        [workspace]\n\n[profile.dev]\nopt-level = 1\ndebug = \"line-tables-only\"\n\n"
        .to_owned();
    for section in ["dependencies", "patch.crates-io"] {
        writeln!(manifest, "[{section}]").unwrap();
        for name in CRATES {
            writeln!(manifest, "{name} = {{ path = \"{name}-{version}\" }}").unwrap();
        }
    }
    for name in CRATES {
        let file = format!("target/package/{name}-{version}.crate");
        let mut unpack = Command::new("tar");
        printed(unpack.args(["xzf", &file]).current_dir(&folder));
    }
    fs::write(folder.join("Cargo.toml"), manifest).unwrap();
    fs::copy(workspace().join("Cargo.lock"), folder.join("Cargo.lock")).unwrap();
    // The example of the package, and not the one of the workspace.
    let example = folder.join(format!("reference-tables-{version}/examples/pass.rs"));
    fs::copy(example, folder.join("src/main.rs")).unwrap();
    let text = cargo(&folder, &["run", "--quiet"]);

    let (verdict, rest) = text.split_once(": ").unwrap();
    assert!(["RUN", "CARE", "STOP"].contains(&verdict), "{text}");
    let (force, _) = rest.split_once(" N bends the tip by ").unwrap();
    let force: f64 = force.rsplit(' ').next().unwrap().parse().unwrap();
    assert!(force > 0.0, "{text}");
}
