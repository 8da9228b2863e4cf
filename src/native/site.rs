//! The files that make up the site, their version, and the service worker written from both.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

use super::{Failure, save, stream};

/// The service worker's place, beside `index.html`: it reaches no further up than its own folder.
pub const WORKER: &str = "sw.js";
const SOURCE: &str = "www/worker.js";
/// The books, which are fetched when they are opened and not before.
const SHELF: &str = "www/data/shelf/";

/// Runs `cellwright stamp FOLDER`.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut folder = None;
    while let Some(arg) = args.next()? {
        match arg {
            Value(path) if folder.is_none() => folder = Some(PathBuf::from(path)),
            _ => return Err(arg.unexpected().into()),
        }
    }
    let folder = folder.ok_or_else(|| Failure::Usage("stamp needs the folder of a site".into()))?;
    let version = stamp(&folder)?;
    stream::print(&format!("version {version}\n"))
}

/// A site's files below `root`: their paths with `/`, in order, with their contents. The page's shell and all of
/// `www/` but the worker's source and dot-files.
pub fn files(root: &Path) -> Result<BTreeMap<String, Vec<u8>>, Failure> {
    let mut files = BTreeMap::new();
    let mut todo = vec!["index.html".to_owned(), "www".to_owned()];
    while let Some(path) = todo.pop() {
        let full = root.join(&path);
        if full.is_dir() {
            for entry in fs::read_dir(&full).map_err(|error| unreadable(&full, &error))? {
                let name = entry.map_err(|error| unreadable(&full, &error))?.file_name();
                let name = name.to_string_lossy();
                if !name.starts_with('.') {
                    todo.push(format!("{path}/{name}"));
                }
            }
        } else if path != SOURCE {
            files.insert(path, fs::read(&full).map_err(|error| unreadable(&full, &error))?);
        }
    }
    Ok(files)
}

fn unreadable(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Outside(format!("{} can't be read: {error}", path.display()))
}

/// The value by which a browser checks a file (W3C Subresource Integrity, section 3.1).
pub fn integrity(content: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(content)))
}

/// The worker's text for these files, and the version: a hash of every path and content, the worker's source included.
fn worker(files: &BTreeMap<String, Vec<u8>>, source: &str) -> (String, String) {
    // The books apart: they are not fetched with the rest.
    let list = |books: bool| {
        let list: BTreeMap<&str, String> = files
            .iter()
            .filter(|(path, _)| path.starts_with(SHELF) == books)
            .map(|(path, content)| (path.as_str(), integrity(content)))
            .collect();
        serde_json::to_string_pretty(&list).unwrap_or_default()
    };
    let (list, shelf) = (list(false), list(true));
    let mut hash = Sha256::new();
    hash.update(&list);
    hash.update(&shelf);
    hash.update(source);
    let version: String = hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    let text = format!(
        "// Written by `cellwright build` from {SOURCE}; not to be edited.\nconst VERSION = \"{version}\";\nconst FILES = \
         {list};\nconst SHELF = {shelf};\n\n{source}"
    );
    (text, version)
}

/// Writes the service worker of the site in `root` for the files as they are now, and gives the version.
pub fn stamp(root: &Path) -> Result<String, Failure> {
    let source = root.join(SOURCE);
    let source = fs::read_to_string(&source).map_err(|error| unreadable(&source, &error))?;
    let (text, version) = worker(&files(root)?, &source);
    let to = root.join(WORKER);
    save::file(&to, text.as_bytes())?;
    Ok(version)
}

/// Copies the site in `root`, as it is to be published, into `to`, which must be empty or missing. It is there whole or not
/// at all.
pub fn copy(root: &Path, to: &Path) -> Result<(), Failure> {
    let unwritable = |error: std::io::Error| save::unwritable(to, &error);
    if fs::read_dir(to).is_ok_and(|mut entries| entries.next().is_some()) {
        return Err(Failure::Outside(format!("{} is not empty: name a new folder", to.display())));
    }
    let around = save::folder_of(to);
    fs::create_dir_all(&around).map_err(unwritable)?;
    let beside = tempfile::Builder::new().prefix(".cellwright-").tempdir_in(&around).map_err(unwritable)?;
    let new = beside.path().join("site");
    for name in files(root)?.keys().map(String::as_str).chain([WORKER, SOURCE]) {
        let place = new.join(name);
        fs::create_dir_all(place.parent().unwrap_or(&new)).map_err(unwritable)?;
        fs::copy(root.join(name), &place).map_err(unwritable)?;
    }
    if to.is_dir() {
        fs::remove_dir(to).map_err(unwritable)?;
    }
    fs::rename(&new, to).map_err(unwritable)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn integrity_is_as_published() {
        // The example of W3C Subresource Integrity, section 3.2, has this text and a SHA-384; its SHA-256 is by
        // `openssl dgst -sha256 -binary | base64`.
        assert_eq!(
            integrity(b"alert('Hello, world.');"),
            "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="
        );
    }

    #[test]
    fn the_policy_lets_the_one_script_in_the_page_run() {
        let page = include_str!("../../index.html");
        let scripts: Vec<&str> = page
            .split("<script>")
            .skip(1)
            .filter_map(|rest| rest.split_once("</script>"))
            .map(|(script, _)| script)
            .collect();
        assert_eq!(scripts.len(), 1);
        let allowed = format!("script-src 'self' '{}' 'wasm-unsafe-eval'", integrity(scripts[0].as_bytes()));
        assert!(page.contains(&allowed), "index.html's policy has to say: {allowed}");
    }

    #[test]
    fn a_copy_is_there_whole_or_not_at_all() {
        let (from, around) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let write = |name: &str| {
            let place = from.path().join(name);
            fs::create_dir_all(place.parent().unwrap()).unwrap();
            fs::write(place, name).unwrap();
        };
        ["index.html", "www/style.css", SOURCE].iter().for_each(|name| write(name));
        let to = around.path().join("out/site");
        // The worker has not been written: what can't be read whole is not begun.
        assert!(copy(from.path(), &to).is_err());
        assert!(!to.exists());
        write(WORKER);
        copy(from.path(), &to).unwrap();
        assert_eq!(fs::read(to.join("www/style.css")).unwrap(), b"www/style.css");
        assert!(to.join(WORKER).exists() && to.join(SOURCE).exists());
        assert_eq!(fs::read_dir(around.path().join("out")).unwrap().count(), 1, "nothing is left beside it");
        assert!(copy(from.path(), &to).is_err(), "it is not empty");
        let empty = around.path().join("empty");
        fs::create_dir(&empty).unwrap();
        copy(from.path(), &empty).unwrap();
        assert!(empty.join("index.html").exists());
    }

    #[test]
    fn any_change_is_a_new_version() {
        let site = |style: &str| {
            let mut files = BTreeMap::new();
            files.insert("index.html".to_owned(), b"<!doctype html>".to_vec());
            files.insert("www/style.css".to_owned(), style.as_bytes().to_vec());
            files
        };
        let (text, first) = worker(&site("a"), "// source");
        assert!(text.contains(&first) && text.contains("www/style.css") && text.ends_with("// source"));
        assert_eq!(worker(&site("a"), "// source").1, first);
        assert_ne!(worker(&site("b"), "// source").1, first);
        assert_ne!(worker(&site("a"), "// other").1, first);
        // A book is a part of the site, and not of what is fetched at first.
        let mut with_book = site("a");
        with_book.insert(format!("{SHELF}one.txt"), b"print".to_vec());
        let (text, version) = worker(&with_book, "// source");
        let (at_first, later) = text.split_once("const SHELF").expect("a list of its own");
        assert!(!at_first.contains("one.txt") && later.contains("one.txt") && version != first);
    }
}
