//! The licence texts of everything that the page brings along: the crates that are compiled into it, as `cargo metadata` knows them, and
//! the word lists. Written into `www/data/licences.txt` when the page is built, for the room "Licences".

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use super::{Failure, save};

/// Where they are written to, below the project's folder.
const TO: &str = "www/data/licences.txt";
const WORD_LISTS: &str = include_str!("word_lists.txt");
/// What a file with a licence is called, at its beginning.
const NAMES: [&str; 6] = ["license", "licence", "copying", "copyright", "notice", "unlicense"];

/// A package with its licence, and the texts that it carries.
struct Package {
    name: String,
    licence: String,
    texts: Vec<String>,
}

/// Writes the licences of the project in `root`.
pub fn write(root: &Path) -> Result<(), Failure> {
    let packages = compiled_in(&metadata(root)?)?;
    let own = ["LICENSE-MIT", "LICENSE-APACHE"].map(|name| root.join(name));
    let own = own.map(|path| fs::read_to_string(&path).unwrap_or_default());
    save::file(&root.join(TO), told(&packages, &own).as_bytes())
}

fn metadata(root: &Path) -> Result<Value, Failure> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let ask =
        ["metadata", "--locked", "--format-version", "1", "--filter-platform", "wasm32-unknown-unknown"];
    let answer = Command::new(cargo).current_dir(root).args(ask).output()?;
    if !answer.status.success() {
        let why = String::from_utf8_lossy(&answer.stderr).into_owned();
        return Err(Failure::Outside(format!("cargo metadata: {}", why.trim())));
    }
    serde_json::from_slice(&answer.stdout)
        .map_err(|error| Failure::Outside(format!("cargo metadata: {error}")))
}

/// The packages whose code is in the page: what the project uses, what that uses, and so on, without what only builds or tests.
fn compiled_in(metadata: &Value) -> Result<Vec<Package>, Failure> {
    let list = |value: &'_ Value| value.as_array().cloned().unwrap_or_default();
    let id = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let packages: BTreeMap<String, Value> =
        list(&metadata["packages"]).into_iter().map(|package| (id(&package["id"]), package)).collect();
    let uses: BTreeMap<String, Vec<Value>> = list(&metadata["resolve"]["nodes"])
        .into_iter()
        .map(|node| (id(&node["id"]), list(&node["deps"])))
        .collect();
    let runs_in_the_compiler = |id: &str| {
        let targets = packages.get(id).map(|package| list(&package["targets"])).unwrap_or_default();
        targets.iter().any(|target| list(&target["kind"]).iter().any(|kind| kind == "proc-macro"))
    };
    let root = id(&metadata["resolve"]["root"]);
    let (mut found, mut todo) = (BTreeSet::new(), vec![root.clone()]);
    while let Some(next) = todo.pop() {
        for used in uses.get(&next).into_iter().flatten() {
            let package = id(&used["pkg"]);
            let in_the_code = list(&used["dep_kinds"]).iter().any(|kind| kind["kind"].is_null());
            if in_the_code && !runs_in_the_compiler(&package) && found.insert(package.clone()) {
                todo.push(package);
            }
        }
    }
    if found.len() < 10 {
        return Err(Failure::Outside("cargo metadata names hardly any package: its form has changed".into()));
    }
    found.iter().filter_map(|id| packages.get(id)).map(package).collect()
}

fn package(of: &Value) -> Result<Package, Failure> {
    let text = |name: &str| of[name].as_str().unwrap_or_default().to_owned();
    let name = format!("{} {}", text("name"), text("version"));
    let manifest = text("manifest_path");
    let folder = Path::new(&manifest).parent().unwrap_or(Path::new(""));
    let mut files: Vec<_> = fs::read_dir(folder)?.filter_map(|entry| Some(entry.ok()?.path())).collect();
    files.sort();
    let is_licence = |path: &&std::path::PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
        path.is_file() && NAMES.iter().any(|begins| name.starts_with(begins))
    };
    let texts = files.iter().filter(is_licence).filter_map(|path| fs::read_to_string(path).ok());
    let texts: Vec<String> = texts.map(|text| text.trim().replace("\r\n", "\n")).collect();
    let licence = text("license");
    if licence.is_empty() && texts.is_empty() {
        return Err(Failure::Outside(format!("{name} names no licence and carries none")));
    }
    Ok(Package { name, licence, texts })
}

/// All of them as one text, each text once, under the names of those that it is of.
fn told(packages: &[Package], own: &[String; 2]) -> String {
    let mut by_text: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    let mut out =
        "Cellwright: MIT or Apache-2.0, as you choose. It brings along what follows.\n\n".to_owned();
    for package in packages {
        let carries = if package.texts.is_empty() { "; it carries no text of it" } else { "" };
        out.push_str(&format!("{}: {}{carries}\n", package.name, package.licence));
        for text in &package.texts {
            by_text.entry(text).or_default().push(&package.name);
        }
    }
    out.push_str("The Rust standard library: MIT OR Apache-2.0\n");
    let line = "-".repeat(60);
    for (text, names) in by_text {
        out.push_str(&format!("\n{line}\n{}\n\n{text}\n", names.join(", ")));
    }
    for (text, name) in own.iter().zip(["MIT", "Apache-2.0"]) {
        out.push_str(&format!(
            "\n{line}\nCellwright ({name}), and the terms of what carries no text of its own\n\n{}\n",
            text.trim()
        ));
    }
    out.push_str(&format!("\n{line}\n{WORD_LISTS}"));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_crate_in_the_page_is_named_with_its_licence() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let packages = compiled_in(&metadata(root).unwrap()).unwrap();
        let named = |name: &str| packages.iter().any(|package| package.name.starts_with(&format!("{name} ")));
        for name in
            ["yew", "wasm-bindgen", "web-sys", "gloo", "miniz_oxide", "rs-fsrs", "hypher", "pulldown-cmark"]
        {
            assert!(named(name), "{name} is missing");
        }
        // What only builds, tests or serves is not in the page.
        for name in ["hyper", "tokio", "proptest", "kurbo", "write-fonts", "yew-macro", "serde_derive"] {
            assert!(!named(name), "{name} is not in the page");
        }
        let text = told(&packages, &["Permission is hereby granted".into(), "Apache License".into()]);
        for package in &packages {
            assert!(
                text.contains(&package.name) && package.texts.iter().all(|licence| text.contains(licence))
            );
        }
        assert!(text.contains("SCOWL") && text.contains("Apache License"));
    }
}
