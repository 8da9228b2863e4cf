//! The files that make up the site, their version, and the service worker written from both.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

use super::{Failure, stream};

/// The service worker's place, beside `index.html`: it reaches no further up than its own folder.
pub const WORKER: &str = "sw.js";
const SOURCE: &str = "www/worker.js";

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
    let list: BTreeMap<&str, String> =
        files.iter().map(|(path, content)| (path.as_str(), integrity(content))).collect();
    let list = serde_json::to_string_pretty(&list).unwrap_or_default();
    let mut hash = Sha256::new();
    hash.update(&list);
    hash.update(source);
    let version: String = hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    let text = format!(
        "// Written by `cellwright build` from {SOURCE}; not to be edited.\nconst VERSION = \"{version}\";\nconst FILES = \
         {list};\n\n{source}"
    );
    (text, version)
}

/// Writes the service worker of the site in `root` for the files as they are now, and gives the version.
pub fn stamp(root: &Path) -> Result<String, Failure> {
    let source = root.join(SOURCE);
    let source = fs::read_to_string(&source).map_err(|error| unreadable(&source, &error))?;
    let (text, version) = worker(&files(root)?, &source);
    let to = root.join(WORKER);
    fs::write(&to, text)
        .map_err(|error| Failure::Outside(format!("{} can't be written: {error}", to.display())))?;
    Ok(version)
}

/// Copies the site in `root`, as it is to be published, into `to`, which must be empty or missing.
pub fn copy(root: &Path, to: &Path) -> Result<(), Failure> {
    let unwritable =
        |error: std::io::Error| Failure::Outside(format!("{} can't be written: {error}", to.display()));
    if fs::read_dir(to).is_ok_and(|mut entries| entries.next().is_some()) {
        return Err(Failure::Outside(format!("{} is not empty: name a new folder", to.display())));
    }
    for name in files(root)?.keys().map(String::as_str).chain([WORKER, SOURCE]) {
        let place = to.join(name);
        fs::create_dir_all(place.parent().unwrap_or(to)).map_err(unwritable)?;
        fs::copy(root.join(name), &place).map_err(unwritable)?;
    }
    Ok(())
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
    }
}
