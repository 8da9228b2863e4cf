//! `cellwright serve`: builds the page and serves it on this computer alone.

use std::fs;
use std::io::Write as _;
use std::path::{Component, Path, PathBuf};

use tiny_http::{Method, Request, Server};

use super::{Failure, page_build, site, stream};

const PORT: u16 = 8080;

/// Runs the command; it ends only by a failure or by the person stopping it.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut port = PORT;
    while let Some(arg) = args.next()? {
        match arg {
            Long("port") => port = args.value()?.parse()?,
            _ => return Err(arg.unexpected().into()),
        }
    }
    // The port first: nobody should wait minutes for a build and then be told that it is taken.
    let server = Server::http(("127.0.0.1", port)).map_err(|error| {
        Failure::Outside(format!("port {port} can't be used ({error}): choose another with --port"))
    })?;
    let port = server.server_addr().to_ip().map_or(port, |address| address.port());
    page_build::build()?;
    stream::print(&format!(
        "Cellwright is at http://127.0.0.1:{port}/ (on this computer only; Ctrl+C ends it)\n"
    ))?;
    for request in server.incoming_requests() {
        // A reader who has gone away is no reason to stop serving the others.
        let _ = answer(request, page_build::home());
    }
    Ok(())
}

fn answer(request: Request, root: &Path) -> std::io::Result<()> {
    if !matches!(request.method(), Method::Get | Method::Head) {
        return send(request, "405 Method Not Allowed", TEXT, b"Only GET and HEAD.");
    }
    let found = file_of(request.url()).and_then(|(path, kind)| Some((fs::read(root.join(path)).ok()?, kind)));
    match found {
        Some((body, kind)) => send(request, "200 OK", kind, &body),
        None => send(request, "404 Not Found", TEXT, b"Not found."),
    }
}

const TEXT: &str = "text/plain; charset=utf-8";

/// Answers and asks the browser to close the connection. The server has few threads, each held by a connection as long
/// as it is open: with connections kept alive a browser that opens several at once could be left waiting for ever.
fn send(request: Request, status: &str, kind: &str, body: &[u8]) -> std::io::Result<()> {
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-cache\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let with_body = *request.method() != Method::Head;
    let mut to = request.into_writer();
    to.write_all(head.as_bytes())?;
    if with_body {
        to.write_all(body)?;
    }
    to.flush()
}

/// The file an address stands for, below the project's folder, and its media type: `index.html`, the service worker
/// and what lies in `www/`, nothing else.
fn file_of(url: &str) -> Option<(PathBuf, &'static str)> {
    let path = url.split(['?', '#']).next()?.trim_start_matches('/');
    let path = if path.is_empty() { "index.html" } else { path };
    let path = PathBuf::from(path);
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    if !plain
        || !(path == Path::new("index.html") || path == Path::new(site::WORKER) || path.starts_with("www"))
    {
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
        assert_eq!(file_of("/").unwrap().0, Path::new("index.html"));
        assert_eq!(file_of("/www/pkg/cellwright_bg.wasm").unwrap().1, "application/wasm");
        for outside in ["/Cargo.toml", "/../etc/passwd", "/www/../Cargo.toml", "//etc/passwd", "/src/lib.rs"]
        {
            assert!(file_of(outside).is_none(), "{outside}");
        }
    }
}
