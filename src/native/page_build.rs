//! `cellwright build`: gets what building the page needs and is missing, and builds it into `www/pkg`, with its
//! service worker beside `index.html`.
//!
//! Everything that is fetched or built lies under `target/`; nothing is put into the person's home but what rustup
//! and cargo keep there themselves.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::{Failure, site};
use cellwright::practice::ready;

const TARGET: &str = "wasm32-unknown-unknown";

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut out = None;
    while let Some(arg) = args.next()? {
        match arg {
            Long("out") => out = Some(PathBuf::from(args.value()?)),
            _ => return Err(arg.unexpected().into()),
        }
    }
    build()?;
    out.map_or(Ok(()), |out| site::copy(home(), &out))
}

/// The folder of the project.
pub fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Builds the page.
pub fn build() -> Result<(), Failure> {
    wasm_target()?;
    let wasm_pack = wasm_pack()?;
    braille()?;
    eprintln!("cellwright: building the page (some minutes the first time, seconds after that) …");
    // The half that loads first, and the whole page.
    module(&wasm_pack, "cellwright", &["--", "--no-default-features"])?;
    module(&wasm_pack, "whole", &[])?;
    site::stamp(home()).map(drop)
}

/// Writes the braille of the page's texts and words, which the half that loads first cannot make itself.
fn braille() -> Result<(), Failure> {
    let folder = home().join("www/data");
    let [texts, frames, words] = ["passages.txt", "frames.txt", "words.txt"].map(|name| folder.join(name));
    let read = |path: PathBuf| {
        std::fs::read_to_string(&path)
            .map_err(|error| Failure::Outside(format!("{} can't be read: {error}", path.display())))
    };
    Ok(std::fs::write(
        folder.join("braille.txt"),
        ready::write(&read(texts)?, &read(frames)?, &read(words)?),
    )?)
}

/// Builds one module of the page into `www/pkg` under this name.
fn module(wasm_pack: &Path, name: &str, more: &[&str]) -> Result<(), Failure> {
    let status = Command::new(wasm_pack)
        .current_dir(home())
        .args(["--log-level", "warn", "build", "--target", "web", "--no-typescript", "--no-pack"])
        .args(["--out-dir", "www/pkg", "--out-name", name, "--profile", "page"])
        .args(more)
        .env("WASM_PACK_CACHE", tools().join("cache"))
        .env("CARGO_TARGET_DIR", home().join("target"))
        .stdin(Stdio::null())
        .status()
        .map_err(|error| Failure::Outside(format!("wasm-pack could not be started: {error}")))?;
    if !status.success() {
        return Err(Failure::Outside("the page could not be built; what went wrong stands above".into()));
    }
    Ok(())
}

fn tools() -> PathBuf {
    home().join("target/tools")
}

fn wasm_target() -> Result<(), Failure> {
    let installed =
        Command::new("rustup").args(["target", "list", "--installed"]).output().map_err(|_| {
            Failure::Outside("rustup is missing: install Rust by rustup, then run this again".into())
        })?;
    if String::from_utf8_lossy(&installed.stdout).lines().any(|line| line == TARGET) {
        return Ok(());
    }
    eprintln!("cellwright: getting the {TARGET} target by rustup …");
    let status = Command::new("rustup").args(["target", "add", TARGET]).stdin(Stdio::null()).status()?;
    if !status.success() {
        return Err(Failure::Outside(format!(
            "rustup could not get the {TARGET} target: check the network and run this again"
        )));
    }
    Ok(())
}

fn wasm_pack() -> Result<PathBuf, Failure> {
    let program = tools().join("bin/wasm-pack");
    if program.exists() {
        return Ok(program);
    }
    eprintln!("cellwright: building wasm-pack into target/tools, once (about three minutes) …");
    let status = Command::new("cargo")
        .current_dir(home())
        .args(["install", "wasm-pack", "--version", "0.15.1", "--locked", "--quiet", "--root"])
        .arg(tools())
        .env("CARGO_TARGET_DIR", tools().join("build"))
        .stdin(Stdio::null())
        .status()?;
    if !status.success() {
        return Err(Failure::Outside(
            "wasm-pack could not be built: check the network, or what stands above, and run this again"
                .into(),
        ));
    }
    Ok(program)
}
