//! `cellwright build`: gets what building the page needs and is missing, and builds it into `www/pkg`, with its
//! service worker beside `index.html`.
//!
//! The tools are got by [`super::page_tools`].

use std::path::{Path, PathBuf};
use std::process::Command;

use super::page_tools::{self, Tools};
use super::{Failure, licences, save, site, stream};
use cellwright::practice::{ready, shelf};

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut out = None;
    let mut quality = Quality::Published;
    while let Some(arg) = args.next()? {
        match arg {
            Long("out") => out = Some(PathBuf::from(args.value()?)),
            Long("quick") => quality = Quality::Quick,
            _ => return Err(arg.unexpected().into()),
        }
    }
    if out.is_some() && quality == Quality::Quick {
        return Err(Failure::Usage(
            "what is published is never built with --quick: leave out one of both".into(),
        ));
    }
    build(quality)?;
    out.map_or(Ok(()), |out| site::copy(home(), &out))
}

/// How much work the compiler puts into the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quality {
    /// As it is published: small and quick in the browser, minutes to build.
    Published,
    /// For a look on this computer: built soon, larger and slower in the browser.
    Quick,
}

impl Quality {
    /// The profile in Cargo.toml.
    fn profile(self) -> &'static str {
        match self {
            Quality::Published => "page",
            Quality::Quick => "quick",
        }
    }
}

/// The folder of the project.
pub fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Builds the page.
pub fn build(quality: Quality) -> Result<(), Failure> {
    let tools = page_tools::get(home())?;
    braille()?;
    list_of_books()?;
    licences::write(home())?;
    stream::say(match quality {
        Quality::Published => "building the page as it is published (some minutes) …",
        Quality::Quick => "building the page for a look, larger and slower than what is published …",
    })?;
    // The half that loads first, and the whole page.
    module(&tools, quality, "cellwright", &["--", "--locked", "--no-default-features"])?;
    module(&tools, quality, "whole", &["--", "--locked"])?;
    site::stamp(home()).map(drop)
}

/// Writes the list of the shelf's books.
fn list_of_books() -> Result<(), Failure> {
    let folder = home().join("www/data/shelf");
    let mut books = Vec::new();
    for entry in std::fs::read_dir(&folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|end| end == "txt") {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            books.push((name, std::fs::read_to_string(&path)?));
        }
    }
    books.sort();
    let list = shelf::write_list(&books)
        .map_err(|(file, refusal)| Failure::Outside(format!("www/data/shelf/{file}, {refusal}")))?;
    Ok(std::fs::write(home().join("www/data/books.txt"), list)?)
}

/// Writes the braille of the page's texts and words, which the half that loads first cannot make itself.
fn braille() -> Result<(), Failure> {
    let folder = home().join("www/data");
    let [texts, frames, words] = ["passages.txt", "frames.txt", "words.txt"].map(|name| folder.join(name));
    let read = |path: PathBuf| {
        std::fs::read_to_string(&path)
            .map_err(|error| Failure::Outside(format!("{} can't be read: {error}", path.display())))
    };
    let braille = ready::write(&read(texts)?, &read(frames)?, &read(words)?);
    save::file(&folder.join("braille.txt"), braille.as_bytes())
}

/// Builds one module of the page into `www/pkg` under this name.
fn module(tools: &Tools, quality: Quality, name: &str, more: &[&str]) -> Result<(), Failure> {
    let mut command = Command::new(&tools.wasm_pack);
    command
        .current_dir(home())
        .args([
            "--log-level",
            "warn",
            "build",
            "src/module",
            "--target",
            "web",
            "--no-typescript",
            "--no-pack",
        ])
        .arg("--out-dir")
        .arg(home().join("www/pkg"))
        .args(["--out-name", name, "--profile", quality.profile()])
        .args(more)
        .env("PATH", &tools.path)
        .env("CARGO_TARGET_DIR", home().join("target"));
    let what = if name == "whole" { "the whole page" } else { "the half that loads first" };
    if page_tools::telling(what, vec![(what, vec![command])])? {
        return Ok(());
    }
    Err(Failure::Outside("the page could not be built; what went wrong stands above".into()))
}
