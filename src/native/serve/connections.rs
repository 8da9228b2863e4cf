//! Connections: how many, how long, and what happens when there is no room for another.
//!
//! Each connection has one request and one answer, so its age tells all: who is served is done within moments, and the
//! oldest is the one that only holds its place. It goes when the place is needed.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::io::ErrorKind;
use std::net::TcpListener;
use std::sync::Arc;
use std::time::Duration;

use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::TcpStream;
use tokio::task::AbortHandle;

use super::super::Failure;
use super::answer;
use super::files::Site;

/// Open connections at a time: half of what most systems let a program open.
const CONNECTIONS: usize = 512;
/// A request's head: its bytes, its fields and the time it may take to come.
const HEAD_BYTES: usize = 16 * 1024;
const HEAD_FIELDS: usize = 64;
const HEAD_TIME: Duration = Duration::from_secs(5);
/// A connection from its beginning to its end.
const WHOLE_TIME: Duration = Duration::from_secs(60);
/// What a client still sends after its answer is taken and thrown away for so long, lest the answer be lost with it.
const LEAVING_TIME: Duration = Duration::from_secs(1);
const LEAVING_BYTES: u64 = 1 << 20;
/// So often in a row no connection could be taken, though none was open: then the server gives up.
const FAILURES: u32 = 20;

/// Serves the site until no connection can be taken any more; `ready` is called as soon as one can.
pub fn serve(
    listener: TcpListener,
    site: Site,
    ready: impl FnOnce() -> Result<(), Failure>,
) -> Result<(), Failure> {
    let cannot = |error: std::io::Error| Failure::Outside(format!("the server can't start: {error}"));
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(4)
        .enable_all()
        .build()
        .map_err(cannot)?;
    runtime.block_on(async {
        listener.set_nonblocking(true).map_err(cannot)?;
        let listener = tokio::net::TcpListener::from_std(listener).map_err(cannot)?;
        ready()?;
        accept(listener, Arc::new(site)).await
    })
}

async fn accept(listener: tokio::net::TcpListener, site: Arc<Site>) -> Result<(), Failure> {
    let mut open: VecDeque<AbortHandle> = VecDeque::new();
    let mut failures = 0;
    loop {
        match listener.accept().await {
            Ok((stream, _)) => {
                failures = 0;
                if open.len() >= CONNECTIONS {
                    open.retain(|one| !one.is_finished());
                }
                if open.len() >= CONNECTIONS {
                    open.pop_front().inspect(AbortHandle::abort);
                }
                let task = tokio::spawn(tokio::time::timeout(WHOLE_TIME, converse(stream, site.clone())));
                open.push_back(task.abort_handle());
            }
            // That client has gone; the next one is another matter.
            Err(error)
                if matches!(
                    error.kind(),
                    ErrorKind::ConnectionAborted | ErrorKind::ConnectionReset | ErrorKind::Interrupted
                ) => {}
            // Most likely the system lets the program open no more.
            Err(error) => {
                open.retain(|one| !one.is_finished());
                match open.pop_front() {
                    Some(oldest) => oldest.abort(),
                    None => failures += 1,
                }
                if failures == FAILURES {
                    return Err(Failure::Outside(format!(
                        "the server can't take connections any more ({error}): close other programs and start it again"
                    )));
                }
                tokio::time::sleep(Duration::from_millis(10)).await;
            }
        }
    }
}

/// One request, one answer, and the end.
async fn converse(stream: TcpStream, site: Arc<Site>) {
    let service = service_fn(|request| {
        let site = site.clone();
        // Files are read and packed beside, not between the connections.
        let answer = tokio::task::spawn_blocking(move || answer::to(&request, &site));
        async { Ok::<_, Infallible>(answer.await.unwrap_or_else(|_| answer::failed())) }
    });
    let done = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_TIME)
        .max_buf_size(HEAD_BYTES)
        .max_headers(HEAD_FIELDS)
        .keep_alive(false)
        .serve_connection(TokioIo::new(stream), service)
        .without_shutdown()
        .await;
    // A reader who has gone away is no reason to stop serving the others.
    let Ok(parts) = done else { return };
    let mut stream = parts.io.into_inner();
    if stream.shutdown().await.is_ok() {
        let mut rest = stream.take(LEAVING_BYTES);
        let mut nowhere = tokio::io::sink();
        let _ = tokio::time::timeout(LEAVING_TIME, tokio::io::copy(&mut rest, &mut nowhere)).await;
    }
}
