//! The site's files as they are sent: read once, packed once, and read again when they have changed.

use std::collections::HashMap;
use std::io::Write as _;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use flate2::Compression;
use flate2::write::GzEncoder;
use hyper::body::Bytes;
use sha2::{Digest as _, Sha256};

use super::super::site::WORKER;

/// A folder that holds a site.
pub struct Site {
    /// Without symbolic links.
    root: PathBuf,
    kept: Mutex<HashMap<PathBuf, Arc<File>>>,
}

/// A file and what is sent of it.
pub struct File {
    /// Its media type.
    pub kind: &'static str,
    /// Its content.
    pub plain: Bytes,
    /// The same, packed.
    pub gzip: Bytes,
    /// Names this content (RFC 9110, section 8.8.3), without the quotation marks.
    pub tag: String,
    changed: (SystemTime, u64),
}

impl Site {
    /// The site in a folder.
    pub fn in_folder(root: &Path) -> std::io::Result<Site> {
        Ok(Site { root: root.canonicalize()?, kept: Mutex::default() })
    }

    /// The file at an address: `index.html`, the service worker and what lies in `www/`, nothing else, no name that begins
    /// with a dot, and nothing to which a symbolic link leads out of these.
    pub fn file(&self, address: &str) -> std::io::Result<Option<Arc<File>>> {
        let path = address.strip_prefix('/').unwrap_or(address);
        let Some((path, kind)) = served(Path::new(if path.is_empty() { "index.html" } else { path })) else {
            return Ok(None);
        };
        let full = match self.root.join(path).canonicalize() {
            Ok(full) => full,
            Err(error) if missing(&error) => return Ok(None),
            Err(error) => return Err(error),
        };
        if !full.strip_prefix(&self.root).is_ok_and(|inside| served(inside).is_some()) || !full.is_file() {
            return Ok(None);
        }
        let about = full.metadata()?;
        let changed = (about.modified()?, about.len());
        let lock = || self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(file) = lock().get(&full).filter(|file| file.changed == changed) {
            return Ok(Some(file.clone()));
        }
        let plain = std::fs::read(&full)?;
        let mut gzip = GzEncoder::new(Vec::new(), Compression::default());
        gzip.write_all(&plain)?;
        let tag = Sha256::digest(&plain).iter().take(12).map(|byte| format!("{byte:02x}")).collect();
        let file = Arc::new(File { kind, plain: plain.into(), gzip: gzip.finish()?.into(), tag, changed });
        lock().insert(full, file.clone());
        Ok(Some(file))
    }
}

fn missing(error: &std::io::Error) -> bool {
    matches!(
        error.kind(),
        std::io::ErrorKind::NotFound
            | std::io::ErrorKind::NotADirectory
            | std::io::ErrorKind::InvalidFilename
    )
}

/// A path below the site's folder that is served, and its media type.
fn served(path: &Path) -> Option<(&Path, &'static str)> {
    let plain = |part: Component<'_>| match part {
        Component::Normal(name) => name.to_str().is_some_and(|name| {
            !name.starts_with('.') && name.bytes().all(|b| b.is_ascii_alphanumeric() || b"._-".contains(&b))
        }),
        _ => false,
    };
    let ours = path == Path::new("index.html") || path == Path::new(WORKER) || path.starts_with("www");
    if !ours || !path.components().all(plain) {
        return None;
    }
    let kind = match path.extension()?.to_str()? {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "txt" | "md" | "tsv" => "text/plain; charset=utf-8",
        _ => return None,
    };
    Some((path, kind))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_page_is_served() {
        let of = |path: &'static str| served(Path::new(path));
        assert_eq!(of("index.html").unwrap().1, "text/html; charset=utf-8");
        assert_eq!(of("www/pkg/cellwright_bg.wasm").unwrap().1, "application/wasm");
        for outside in [
            "Cargo.toml",
            "../etc/passwd",
            "www/../Cargo.toml",
            "/etc/passwd",
            "src/lib.rs",
            "www/.hidden.txt",
            "www/.git/config.txt",
            "www",
            "www/./style.css/..",
            "www/a b.css",
            "www/a\\..\\b.css",
        ] {
            assert!(of(outside).is_none(), "{outside}");
        }
    }
}
