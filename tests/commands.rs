//! The two commands of the README on a machine that lacks something: one clear line and a non-zero exit. The machine
//! is made of a search path with a few stand-in programs.
#![cfg(unix)]

use std::fs;
use std::net::TcpListener;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder of programs, gone with this value.
struct Programs(PathBuf);

impl Drop for Programs {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

impl Programs {
    /// What every system has, and the stand-ins: name and shell script.
    fn with(name: &str, stand_ins: &[(&str, &str)]) -> Programs {
        let folder =
            Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("programs-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        for plain in ["bash", "sh", "dirname", "mkdir", "grep", "cat", "rm"] {
            let place =
                ["/usr/bin", "/bin"].iter().map(|d| Path::new(d).join(plain)).find(|p| p.exists()).unwrap();
            std::os::unix::fs::symlink(place, folder.join(plain)).unwrap();
        }
        for (name, script) in stand_ins {
            let place = folder.join(name);
            fs::write(&place, format!("#!/bin/sh\n{script}\n")).unwrap();
            fs::set_permissions(&place, fs::Permissions::from_mode(0o755)).unwrap();
        }
        Programs(folder)
    }

    fn run(&self, program: &str, args: &[&str]) -> Output {
        Command::new(program)
            .args(args)
            .env("PATH", &self.0)
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .unwrap()
    }
}

const CELLWRIGHT: &str = env!("CARGO_BIN_EXE_cellwright");

/// It failed, and its last words are one line that says this.
fn says(output: &Output, words: &str) {
    let errors = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(!output.status.success(), "it ended well");
    let last = errors.lines().last().unwrap_or_default();
    assert!(last.contains(words), "{errors:?} does not end with {words:?}");
    assert!(!errors.contains("panicked"), "{errors}");
}

#[test]
fn a_taken_port() {
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let output = Command::new(CELLWRIGHT).args(["serve", "--port", &port]).output().unwrap();
    says(&output, "choose another with --port");
    assert_eq!(String::from_utf8_lossy(&output.stderr).lines().count(), 1);
    assert_eq!(output.status.code(), Some(1));
    says(&Command::new(CELLWRIGHT).args(["--port", "70000"]).output().unwrap(), "70000");
}

#[test]
fn no_rustup() {
    let bare = Programs::with("bare", &[]);
    says(&bare.run(CELLWRIGHT, &["build"]), "rustup is missing: install Rust by rustup");
    says(&bare.run("bash", &["tests/run"]), "Rust is missing. Install it by rustup");
    let cargo_only = Programs::with("cargo", &[("cargo", "exit 0")]);
    says(&cargo_only.run("bash", &["tests/run"]), "rustup is missing. Install Rust by rustup");
}

#[test]
fn a_download_that_fails() {
    let cut_off =
        Programs::with("cut-off", &[("cargo", "exit 0"), ("rustup", "[ \"$2\" = list ] && exit 0; exit 1")]);
    says(&cut_off.run(CELLWRIGHT, &["build"]), "rustup could not get the wasm32-unknown-unknown target");
    says(&cut_off.run("bash", &["tests/run"]), "could not be added by rustup: check the network");
}

#[test]
fn packages_that_cannot_be_had() {
    let rust = [("cargo", "exit 0"), ("rustup", "echo wasm32-unknown-unknown")];
    // A person without sudo is told the command to type.
    let person = Programs::with("person", &[rust[0], rust[1], ("id", "echo 1000")]);
    says(
        &person.run("bash", &["tests/run"]),
        "Type: sudo apt-get update && sudo apt-get install -y chromium chromium-driver",
    );
    // Packages that do not come.
    let failing = Programs::with("failing", &[rust[0], rust[1], ("id", "echo 0"), ("apt-get", "exit 100")]);
    says(&failing.run("bash", &["tests/run"]), "failed: see target/apt.log");
}
