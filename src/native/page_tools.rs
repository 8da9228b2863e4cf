//! What building the page needs: the browser's compile target, wasm-pack and wasm-bindgen.
//!
//! A tool of the fitting version that stands on the path is used. What is missing is built from crates.io, both tools side by
//! side and with little optimisation, since they run for seconds. Everything lies under `target/`; nothing is put
//! into the person's home but what rustup and cargo keep there themselves.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use super::{Failure, stream};

const TARGET: &str = "wasm32-unknown-unknown";
const WASM_PACK: &str = "0.15.1";
/// Nobody waits longer than this without a word.
const A_WORD_EVERY: Duration = Duration::from_secs(10);

/// The tools, ready to run.
pub struct Tools {
    pub wasm_pack: PathBuf,
    /// The search path on which wasm-pack finds the fitting wasm-bindgen.
    pub path: OsString,
}

/// A tool as crates.io has it.
struct Tool {
    program: &'static str,
    package: &'static str,
    version: String,
    /// How much the compiler optimises it: wasm-bindgen works through megabytes, wasm-pack only starts others.
    optimised: &'static str,
}

impl Tool {
    /// Where it stands, in the fitting version: on the path, or where it was built before.
    fn found(&self, tools: &Path) -> Option<PathBuf> {
        [PathBuf::from(self.program), tools.join("bin").join(self.program)]
            .into_iter()
            .find(|program| self.fits(program))
    }

    fn fits(&self, program: &Path) -> bool {
        let said = Command::new(program).arg("--version").stdin(Stdio::null()).output();
        said.is_ok_and(|said| {
            said.status.success()
                && String::from_utf8_lossy(&said.stdout).split_whitespace().nth(1) == Some(&self.version)
        })
    }

    /// With `locked`, of exactly the crates that the tool was published with; registries that are a mirror may lack
    /// one of them, and then its own ranges decide.
    fn build(&self, tools: &Path, locked: bool) -> Command {
        let mut command = Command::new("cargo");
        command
            .args(["install", self.package, "--version", &self.version, "--quiet", "--force", "--root"])
            .arg(tools)
            .arg("--target-dir")
            .arg(tools.join("build").join(self.program))
            .env("CARGO_PROFILE_RELEASE_OPT_LEVEL", self.optimised)
            .env("CARGO_PROFILE_RELEASE_LTO", "off")
            .env("CARGO_PROFILE_RELEASE_DEBUG", "false")
            .env("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16");
        if locked {
            command.arg("--locked");
        }
        command
    }
}

/// Gets what is missing for the project in this folder.
pub fn get(home: &Path) -> Result<Tools, Failure> {
    wasm_target()?;
    let tools = home.join("target/tools");
    let lock = std::fs::read_to_string(home.join("Cargo.lock"))?;
    let version = locked(&lock, "wasm-bindgen").ok_or_else(|| {
        Failure::Outside("Cargo.lock has no wasm-bindgen: take it from the project anew".into())
    })?;
    let wanted = [
        Tool { program: "wasm-pack", package: "wasm-pack", version: WASM_PACK.into(), optimised: "0" },
        Tool {
            program: "wasm-bindgen",
            package: "wasm-bindgen-cli",
            version: version.into(),
            optimised: "1",
        },
    ];
    let missing: Vec<&Tool> = wanted.iter().filter(|tool| tool.found(&tools).is_none()).collect();
    if !missing.is_empty() {
        let names = missing.iter().map(|tool| tool.program).collect::<Vec<_>>().join(" and ");
        stream::say(&format!("building {names} into target/tools, once (about three minutes) …"))?;
        let building = missing
            .iter()
            .map(|tool| (tool.program, vec![tool.build(&tools, true), tool.build(&tools, false)]));
        if !telling(&names, building.collect())? {
            return Err(Failure::Outside(format!(
                "{names} could not be built: check the network, or what stands above, and run this again"
            )));
        }
    }
    let [wasm_pack, wasm_bindgen] = wanted.map(|tool| {
        tool.found(&tools).ok_or_else(|| {
            Failure::Outside(format!(
                "{} was built and does not run: delete target/tools and run this again",
                tool.program
            ))
        })
    });
    let (wasm_pack, wasm_bindgen) = (wasm_pack?, wasm_bindgen?);
    let rest = std::env::var_os("PATH").unwrap_or_default();
    let own = wasm_bindgen.parent().filter(|folder| !folder.as_os_str().is_empty()).map(Path::to_owned);
    let path = std::env::join_paths(own.into_iter().chain(std::env::split_paths(&rest)))
        .map_err(|error| Failure::Outside(format!("the search path can't be used: {error}")))?;
    Ok(Tools { wasm_pack, path })
}

/// The version of a package in a Cargo.lock.
fn locked<'a>(lock: &'a str, package: &str) -> Option<&'a str> {
    let mut lines = lock.lines();
    lines.find(|line| line.strip_prefix("name = ").is_some_and(|name| name.trim_matches('"') == package))?;
    lines.next()?.strip_prefix("version = ").map(|version| version.trim_matches('"'))
}

/// Runs what is named side by side and says what is still going on, with the time gone by. Of each, the commands are tried in turn until
/// one does its work. Gives whether all have done it.
pub fn telling(what: &str, work: Vec<(&str, Vec<Command>)>) -> Result<bool, Failure> {
    let begun = Instant::now();
    let (mut running, mut said, mut all) = (Vec::new(), begun, true);
    for (name, ways) in work {
        let mut ways = ways.into_iter();
        match ways.next() {
            Some(first) => running.push((name, start(name, first)?, ways)),
            None => all = false,
        }
    }
    while !running.is_empty() {
        std::thread::sleep(Duration::from_millis(100));
        let mut still = Vec::new();
        for (name, mut child, mut ways) in running {
            match child.try_wait()? {
                None => still.push((name, child, ways)),
                Some(status) if status.success() => {}
                Some(_) => match ways.next() {
                    Some(next) => {
                        stream::say(&format!("{name}: tried another way …"))?;
                        still.push((name, start(name, next)?, ways));
                    }
                    None => all = false,
                },
            }
        }
        running = still;
        if !running.is_empty() && said.elapsed() >= A_WORD_EVERY {
            said = Instant::now();
            let names = running.iter().map(|(name, ..)| *name).collect::<Vec<_>>().join(", ");
            stream::say(&format!("… {names} ({} s)", begun.elapsed().as_secs()))?;
        }
    }
    if all {
        stream::say(&format!("{what}: done in {} s", begun.elapsed().as_secs()))?;
    }
    Ok(all)
}

fn start(name: &str, mut command: Command) -> Result<Child, Failure> {
    command
        .stdin(Stdio::null())
        .spawn()
        .map_err(|error| Failure::Outside(format!("{name} could not be started: {error}")))
}

fn wasm_target() -> Result<(), Failure> {
    let installed =
        Command::new("rustup").args(["target", "list", "--installed"]).output().map_err(|_| {
            Failure::Outside("rustup is missing: install Rust by rustup, then run this again".into())
        })?;
    if String::from_utf8_lossy(&installed.stdout).lines().any(|line| line == TARGET) {
        return Ok(());
    }
    stream::say(&format!("getting the {TARGET} target by rustup …"))?;
    let status = Command::new("rustup").args(["target", "add", TARGET]).stdin(Stdio::null()).status()?;
    if !status.success() {
        return Err(Failure::Outside(format!(
            "rustup could not get the {TARGET} target: check the network and run this again"
        )));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The form of a lock file is Cargo's (its reference, "Cargo.lock").
    #[test]
    fn the_version_in_a_lock_file() {
        let lock = "[[package]]\nname = \"wasm-bindgen-macro\"\nversion = \"1.0.0\"\n\n[[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.7\"\n";
        assert_eq!(locked(lock, "wasm-bindgen"), Some("0.2.7"));
        assert_eq!(locked(lock, "yew"), None);
        let ours = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.lock"))
            .expect("our lock file");
        assert!(locked(&ours, "wasm-bindgen").is_some_and(|version| version.starts_with("0.2.")));
    }

    #[test]
    fn commands_side_by_side_all_count() {
        let ends = |status: &str| {
            let mut command = Command::new("sh");
            command.args(["-c", &format!("exit {status}")]);
            command
        };
        assert!(
            telling("two", vec![("one", vec![ends("0")]), ("two", vec![ends("3"), ends("0")])])
                .expect("both start")
        );
        assert!(
            !telling("two", vec![("one", vec![ends("0")]), ("two", vec![ends("3")])]).expect("both start")
        );
    }
}
