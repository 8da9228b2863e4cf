//! A plain static file server, at a sub-path, as any static host would be: `index.html` and `www/`, nothing else.

use std::fs::File;
use std::path::{Component, Path, PathBuf};

use tiny_http::{Header, Response, Server};

/// The sub-path at which the page stands.
const UNDER: &str = "/school/braille/";

/// Begins to serve the project's page from an origin of its own and gives the page's address.
pub fn serve() -> String {
    let server = Server::http("127.0.0.1:0").expect("a free port");
    let port = server.server_addr().to_ip().expect("an address").port();
    std::thread::spawn(move || {
        for request in server.incoming_requests() {
            let found = file_of(request.url()).and_then(|path| {
                let kind = match path.extension()?.to_str()? {
                    "html" => "text/html",
                    "js" => "text/javascript",
                    "css" => "text/css",
                    "wasm" => "application/wasm",
                    "svg" => "image/svg+xml",
                    _ => "application/octet-stream",
                };
                Some((File::open(path).ok()?, kind))
            });
            // A browser that has gone away is no failure of the server.
            let _ = match found {
                Some((file, kind)) => {
                    let header = Header::from_bytes("Content-Type", kind).expect("a header");
                    request.respond(Response::from_file(file).with_header(header))
                }
                None => request.respond(Response::empty(404)),
            };
        }
    });
    format!("http://127.0.0.1:{port}{UNDER}")
}

/// The project's folder.
pub fn project() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

fn file_of(url: &str) -> Option<PathBuf> {
    let path = url.split(['?', '#']).next()?.strip_prefix(UNDER)?;
    let path = PathBuf::from(if path.is_empty() { "index.html" } else { path });
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    (plain && (path == Path::new("index.html") || path.starts_with("www"))).then(|| project().join(path))
}
