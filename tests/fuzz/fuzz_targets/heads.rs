//! Any bytes sent to the server: an answer of HTTP or none, and no panic.
#![no_main]
mod site {
    pub const WORKER: &str = "sw.js";
}
mod serve {
    #[path = "../../../../src/native/serve/answer.rs"]
    pub mod answer;
    #[path = "../../../../src/native/serve/files.rs"]
    pub mod files;
}

use std::convert::Infallible;

use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::TokioIo;
use libfuzzer_sys::fuzz_target;
use serve::{answer, files::Site};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

fuzz_target!(|bytes: &[u8]| {
    let runtime = tokio::runtime::Builder::new_current_thread().build().expect("a runtime");
    let site = Site::in_folder(std::path::Path::new(".")).expect("a folder");
    // Half of them get as far as the fields of a request that would be answered.
    let head: &[u8] = if bytes.len() % 2 == 0 { b"" } else { b"GET /index.html HTTP/1.1\r\nHost: localhost\r\n" };
    let sent = [head, bytes, b"\r\n\r\n"].concat();
    runtime.block_on(async {
        let (mut ours, theirs) = tokio::io::duplex(1 << 20);
        let service = service_fn(|request| {
            let answer = answer::to(&request, &site);
            async { Ok::<_, Infallible>(answer) }
        });
        let talk = http1::Builder::new().keep_alive(false).serve_connection(TokioIo::new(theirs), service);
        let client = async {
            let _ = ours.write_all(&sent).await;
            let _ = ours.shutdown().await;
            let mut said = Vec::new();
            let _ = ours.read_to_end(&mut said).await;
            said
        };
        let (_, said) = tokio::join!(talk, client);
        assert!(said.is_empty() || said.starts_with(b"HTTP/1."));
    });
});
