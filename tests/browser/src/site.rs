//! A plain static file server, at a sub-path, as any static host would be: `index.html`, the service worker and `www/`,
//! nothing else. A test can have one of its own, over a copy of the site, to change, break or stop it.

use std::collections::{HashMap, HashSet};
use std::io::Write as _;
use std::path::{Component, Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use tempfile::TempDir;
use tiny_http::Server;

use crate::browser::{Failed, Outcome};

/// The sub-path at which the page stands.
const UNDER: &str = "/school/braille/";

/// What a test has put in the place of a file: these bytes, or a failure of the host.
type Instead = Arc<Mutex<HashMap<String, Option<Vec<u8>>>>>;

/// The files in whose place a network that asks for a password first answers with a page of its own.
type Portal = Arc<Mutex<HashSet<String>>>;

/// That page.
const SIGN_IN: &[u8] = b"<!doctype html><title>Sign in</title><p>This network asks for a password first.";

/// A site being served; the server ends with this value.
pub struct Site {
    /// Its address, with a slash at the end.
    pub address: String,
    instead: Instead,
    portal: Portal,
    plain: Arc<AtomicBool>,
    server: Arc<Server>,
    copy: Option<TempDir>,
}

impl Drop for Site {
    fn drop(&mut self) {
        self.server.unblock();
    }
}

impl Site {
    /// The project's page, from an origin of its own.
    pub fn of_project() -> Outcome<Site> {
        Site::of(project().to_owned(), None)
    }

    /// Another site's folder, of the same shape.
    pub fn of_folder(root: &Path) -> Outcome<Site> {
        Site::of(root.to_owned(), None)
    }

    /// A copy of the project's page.
    pub fn copied() -> Outcome<Site> {
        let copy = TempDir::new()?;
        for name in files_below(project(), "www")?.into_iter().chain(["index.html".into(), "sw.js".into()]) {
            let to = copy.path().join(&name);
            std::fs::create_dir_all(to.parent().unwrap_or(copy.path()))?;
            std::fs::copy(project().join(&name), &to)?;
        }
        Site::of(copy.path().to_owned(), Some(copy))
    }

    fn of(root: PathBuf, copy: Option<TempDir>) -> Outcome<Site> {
        let server = Arc::new(Server::http("127.0.0.1:0").map_err(|error| Failed(error.to_string()))?);
        let port = server.server_addr().to_ip().map_or(0, |address| address.port());
        let instead = Instead::default();
        let (plain, portal) = (Arc::<AtomicBool>::default(), Portal::default());
        let (theirs, changed, all_plain) = (server.clone(), instead.clone(), plain.clone());
        let in_between = portal.clone();
        std::thread::spawn(move || {
            for request in theirs.incoming_requests() {
                let path = file_of(request.url());
                let caught = path
                    .as_ref()
                    .is_some_and(|path| in_between.lock().is_ok_and(|portal| portal.contains(path)));
                let answer = path.and_then(|path| {
                    if caught {
                        return Some((SIGN_IN.to_vec(), "text/html"));
                    }
                    let changed = changed.lock().ok()?.get(&path).cloned();
                    let bytes = match changed {
                        Some(bytes) => bytes?,
                        None => std::fs::read(root.join(&path)).ok()?,
                    };
                    let known = !path.ends_with(".wasm") || !all_plain.load(Ordering::Relaxed);
                    Some((bytes, if known { kind(Path::new(&path)) } else { kind(Path::new("")) }))
                });
                let (status, (body, kind)) = match answer {
                    Some(found) => ("200 OK", found),
                    None => ("404 Not Found", (Vec::new(), "text/plain")),
                };
                // No connection outlives its answer, so that a stopped server is gone at once, and none waits for a
                // thread of the server's that another holds.
                // What such a network answers may be kept for a day.
                let kept = if caught { "Cache-Control: max-age=86400\r\n" } else { "" };
                let head = format!(
                    "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\n{kept}Content-Length: {}\r\nConnection: close\r\n\r\n",
                    body.len()
                );
                let mut to = request.into_writer();
                // A browser that has gone away is no failure of the server.
                let _ = to
                    .write_all(head.as_bytes())
                    .and_then(|()| to.write_all(&body))
                    .and_then(|()| to.flush());
            }
        });
        Ok(Site { address: format!("http://127.0.0.1:{port}{UNDER}"), instead, portal, plain, server, copy })
    }

    /// Publishes a new version: another text at the end of a file, and the worker written for it.
    pub fn publish(&self, path: &str, more: &str) -> Outcome {
        let copy = self.copy.as_ref().ok_or_else(|| Failed("the project itself is not changed".into()))?;
        let file = copy.path().join(path);
        let text = std::fs::read_to_string(&file)?;
        std::fs::write(&file, text + more)?;
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
        let stamped = Command::new(cargo)
            .current_dir(project())
            .args(["run", "--quiet", "--", "stamp"])
            .arg(copy.path())
            .output()?;
        if stamped.status.success() {
            Ok(())
        } else {
            Err(Failed(String::from_utf8_lossy(&stamped.stderr).into_owned()))
        }
    }

    /// Puts other bytes in the place of a file, or a failure of the host.
    pub fn instead(&self, path: &str, bytes: Option<Vec<u8>>) {
        if let Ok(mut instead) = self.instead.lock() {
            instead.insert(path.to_owned(), bytes);
        }
    }

    /// From now on a network that asks for a password first answers in the place of these files; of none: it lets everything through.
    pub fn asks_for_a_password(&self, files: &[&str]) {
        if let Ok(mut portal) = self.portal.lock() {
            *portal = files.iter().map(|file| (*file).to_owned()).collect();
        }
    }

    /// From now on the host does not know what WebAssembly is, as some do not: it serves it as plain bytes.
    pub fn knows_no_wasm(&self) {
        self.plain.store(true, Ordering::Relaxed);
    }

    /// The file itself again.
    pub fn restore(&self, path: &str) {
        if let Ok(mut instead) = self.instead.lock() {
            instead.remove(path);
        }
    }
}

/// The project's folder.
pub fn project() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

fn files_below(root: &Path, folder: &str) -> Outcome<Vec<String>> {
    let (mut found, mut todo) = (Vec::new(), vec![folder.to_owned()]);
    while let Some(path) = todo.pop() {
        if root.join(&path).is_dir() {
            for entry in std::fs::read_dir(root.join(&path))? {
                todo.push(format!("{path}/{}", entry?.file_name().to_string_lossy()));
            }
        } else {
            found.push(path);
        }
    }
    Ok(found)
}

fn kind(path: &Path) -> &'static str {
    match path.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        _ => "application/octet-stream",
    }
}

fn file_of(url: &str) -> Option<String> {
    let path = url.split(['?', '#']).next()?.strip_prefix(UNDER)?;
    let path = if path.is_empty() { "index.html" } else { path };
    let plain = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    (plain && (["index.html", "sw.js"].contains(&path) || path.starts_with("www/"))).then(|| path.to_owned())
}
