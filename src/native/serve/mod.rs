//! `cellwright serve`: builds the page and serves it on this computer alone.

use std::net::TcpListener;
use std::path::PathBuf;

use super::{Failure, page_build, stream};

mod answer;
mod connections;
mod files;

const PORT: u16 = 8080;

/// Runs the command; it ends only by a failure or by the person stopping it.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut port = PORT;
    let mut site = None;
    while let Some(arg) = args.next()? {
        match arg {
            Long("port") => port = args.value()?.parse()?,
            Long("site") => site = Some(PathBuf::from(args.value()?)),
            _ => return Err(arg.unexpected().into()),
        }
    }
    // Nobody should wait minutes for a build and then be told that the port is taken. It is given back meanwhile: whoever
    // connects to an open port may expect an answer.
    drop(listen(port)?);
    let root = match site {
        Some(folder) if folder.join("index.html").is_file() => folder,
        Some(folder) => {
            return Err(Failure::Outside(format!(
                "{} has no index.html: name a folder that 'build --out' wrote",
                folder.display()
            )));
        }
        None => {
            page_build::build(page_build::Quality::Quick)?;
            page_build::home().to_owned()
        }
    };
    let listener = listen(port)?;
    let port = listener.local_addr().map_or(port, |address| address.port());
    let site = files::Site::in_folder(&root)
        .map_err(|error| Failure::Outside(format!("{} can't be read: {error}", root.display())))?;
    connections::serve(listener, site, || {
        stream::print(&format!(
            "Cellwright is at http://127.0.0.1:{port}/ (on this computer only; Ctrl+C ends it)\n"
        ))
    })
}

fn listen(port: u16) -> Result<TcpListener, Failure> {
    TcpListener::bind(("127.0.0.1", port)).map_err(|error| {
        Failure::Outside(format!("port {port} can't be used ({error}): choose another with --port"))
    })
}
