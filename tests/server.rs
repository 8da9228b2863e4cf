//! `cellwright serve` as browsers and others meet it: what is answered, and that nobody stops it for the rest. What the
//! answers must be stands in RFC 9110 and RFC 9112 (HTTP), W3C Content Security Policy and the Fetch standard.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A site in a folder of its own, being served; both are gone with this value.
struct Served {
    child: Child,
    port: u16,
    folder: PathBuf,
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

const STYLE: &str = "body { color: black }\n";

fn site(name: &str) -> PathBuf {
    let folder =
        PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("served-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("www/pkg")).unwrap();
    std::fs::write(folder.join("index.html"), "<!doctype html><title>Here</title>\n").unwrap();
    std::fs::write(folder.join("www/style.css"), STYLE.repeat(500)).unwrap();
    std::fs::write(folder.join("www/pkg/whole_bg.wasm"), b"\0asm\x01\0\0\0").unwrap();
    std::fs::write(folder.join("www/.secret.txt"), "secret").unwrap();
    std::fs::write(folder.join("Cargo.toml"), "[package]").unwrap();
    folder
}

impl Served {
    fn new(name: &str) -> Served {
        let folder = site(name);
        let mut child = Command::new(env!("CARGO_BIN_EXE_cellwright"))
            .args(["serve", "--port", "0", "--site"])
            .arg(&folder)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let port = line.split_once("127.0.0.1:").and_then(|(_, rest)| rest.split_once('/')).unwrap().0;
        Served { port: port.parse().unwrap(), child, folder }
    }

    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
        stream
    }

    /// Sends these bytes and takes all that comes back until the server ends the connection.
    fn raw(&self, request: &[u8]) -> Vec<u8> {
        let mut stream = self.connect();
        stream.write_all(request).unwrap();
        let mut all = Vec::new();
        stream.read_to_end(&mut all).unwrap();
        all
    }

    fn ask(&self, method: &str, path: &str, more: &str) -> Answer {
        Answer::of(&self.raw(
            format!("{method} {path} HTTP/1.1\r\nHost: localhost:{}\r\n{more}\r\n", self.port).as_bytes(),
        ))
    }
}

struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    fn of(bytes: &[u8]) -> Answer {
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").expect("a head") + 4;
        let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        Answer { status, head, body: bytes[end..].to_vec() }
    }

    /// The field of that name.
    fn field(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| {
            let (one, value) = line.split_once(':')?;
            one.eq_ignore_ascii_case(name).then(|| value.trim())
        })
    }
}

#[test]
fn files_come_as_they_are_and_say_what_they_are() {
    let served = Served::new("plain");
    let page = served.ask("GET", "/", "");
    assert_eq!((page.status, page.field("content-type")), (200, Some("text/html; charset=utf-8")));
    assert!(page.body.starts_with(b"<!doctype html>"));
    let wasm = served.ask("GET", "/www/pkg/whole_bg.wasm?again", "");
    assert_eq!((wasm.status, wasm.field("content-type")), (200, Some("application/wasm")));
    for answer in [page, wasm, served.ask("GET", "/none", ""), served.ask("POST", "/", "")] {
        assert_eq!(answer.field("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.field("content-security-policy"), Some("frame-ancestors 'none'"));
        assert_eq!(answer.field("cache-control"), Some("no-cache"));
        assert_eq!(answer.field("connection"), Some("close"));
    }
    let head = served.ask("HEAD", "/www/style.css", "");
    assert_eq!((head.status, head.body.len()), (200, 0));
    assert_eq!(head.field("content-length"), Some((STYLE.len() * 500).to_string().as_str()));
}

#[test]
fn what_is_no_part_of_the_site_is_not_there() {
    let served = Served::new("outside");
    #[cfg(unix)]
    {
        use std::os::unix::fs::symlink;
        symlink(served.folder.join("Cargo.toml"), served.folder.join("www/out.txt")).unwrap();
        symlink("/etc/passwd", served.folder.join("www/passwd.txt")).unwrap();
        symlink("/etc", served.folder.join("www/etc")).unwrap();
        symlink(served.folder.join("www/style.css"), served.folder.join("www/same.css")).unwrap();
        assert_eq!(served.ask("GET", "/www/same.css", "").status, 200);
    }
    let long = format!("/www/{}.css", "a".repeat(5000));
    for path in [
        "/Cargo.toml",
        "//etc/passwd",
        "/../Cargo.toml",
        "/www/../Cargo.toml",
        "/www/%2e%2e/Cargo.toml",
        "/www/.secret.txt",
        "/www/out.txt",
        "/www/passwd.txt",
        "/www/etc/hostname.txt",
        "/www",
        "/www/",
        "/www/pkg",
        "/index.html/x.css",
        "/www/style.css/",
        &long,
    ] {
        assert_eq!(served.ask("GET", path, "").status, 404, "{path}");
    }
}

#[test]
fn what_is_known_already_is_not_sent_again() {
    let served = Served::new("tags");
    let plain = served.ask("GET", "/www/style.css", "");
    let packed = served.ask("GET", "/www/style.css", "Accept-Encoding: br, GZIP;q=0.8\r\n");
    assert_eq!((plain.field("content-encoding"), packed.field("content-encoding")), (None, Some("gzip")));
    assert_eq!(packed.field("vary"), Some("Accept-Encoding"));
    assert!(packed.body.len() < plain.body.len() / 10);
    let mut unpacked = Vec::new();
    flate2::read::GzDecoder::new(packed.body.as_slice()).read_to_end(&mut unpacked).unwrap();
    assert_eq!(unpacked, plain.body);
    for refused in ["gzip;q=0", "identity", "*;q=0", "br"] {
        let answer = served.ask("GET", "/www/style.css", &format!("Accept-Encoding: {refused}\r\n"));
        assert_eq!(answer.field("content-encoding"), None, "{refused}");
    }
    let tag = plain.field("etag").unwrap().to_owned();
    assert_ne!(Some(tag.as_str()), packed.field("etag"), "the two are sent as two");
    for known in [tag.clone(), format!("\"x\", W/{tag}"), "*".to_owned()] {
        let answer = served.ask("GET", "/www/style.css", &format!("If-None-Match: {known}\r\n"));
        assert_eq!((answer.status, answer.body.len()), (304, 0), "{known}");
        assert_eq!(answer.field("etag"), Some(tag.as_str()));
    }
    // A file that has changed is another one.
    std::fs::write(served.folder.join("www/style.css"), "body { color: #111 }\n").unwrap();
    let answer = served.ask("GET", "/www/style.css", &format!("If-None-Match: {tag}\r\n"));
    assert_eq!((answer.status, answer.body.as_slice()), (200, &b"body { color: #111 }\n"[..]));
}

#[test]
fn other_methods_are_told_which_there_are() {
    let served = Served::new("methods");
    for method in ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "BREW"] {
        let answer = served.ask(method, "/", "");
        assert_eq!((answer.status, answer.field("allow")), (405, Some("GET, HEAD")), "{method}");
    }
    // What is being sent meanwhile does not take the answer away.
    let mut much = b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 900000\r\n\r\n".to_vec();
    much.resize(much.len() + 900_000, b'x');
    assert_eq!(Answer::of(&served.raw(&much)).status, 405);
}

/// A name of somebody's own that leads to this computer would make the page a part of their site.
#[test]
fn only_names_of_this_computer_are_answered() {
    let served = Served::new("names");
    let with =
        |head: &str| Answer::of(&served.raw(format!("GET / HTTP/1.1\r\n{head}\r\n").as_bytes())).status;
    for ours in ["localhost", "LOCALHOST:80", "127.0.0.1:8080", "[::1]:8080"] {
        assert_eq!(with(&format!("Host: {ours}\r\n")), 200, "{ours}");
    }
    for other in [
        "example.org",
        "localhost.example.org",
        "127.0.0.1.example.org",
        "a@localhost",
        "10.0.0.1",
        "",
        "localhost, b",
    ] {
        assert!((400..500).contains(&with(&format!("Host: {other}\r\n"))), "{other}");
    }
    assert!((400..500).contains(&with("")), "no name");
    assert!((400..500).contains(&with("Host: localhost\r\nHost: example.org\r\n")), "two names");
    let whole = served.raw(b"GET http://example.org/ HTTP/1.1\r\nHost: localhost\r\n\r\n");
    assert_eq!(Answer::of(&whole).status, 421);
}

#[test]
fn absurd_requests_end_nothing_but_themselves() {
    let served = Served::new("absurd");
    let lines = |head: &str| format!("GET / HTTP/1.1\r\nHost: localhost\r\n{head}\r\n\r\n");
    for request in [
        lines("Content-Length: 1000000000000000"),
        lines("Content-Length: 18446744073709551615"),
        lines("Content-Length: 99999999999999999999999999"),
        lines("Content-Length: -1"),
        lines("Content-Length: 5\r\nContent-Length: 6"),
        lines("Transfer-Encoding: chunked"),
        lines("Transfer-Encoding: chunked\r\nContent-Length: 5"),
        lines(&format!("X: {}", "a".repeat(100_000))),
        lines(&"X: a\r\n".repeat(1000)),
        format!("GET /{} HTTP/1.1\r\nHost: localhost\r\n\r\n", "a".repeat(100_000)),
        "\0\u{1}\u{2}\r\n\r\n".to_owned(),
        "GET / HTTP/9.9\r\n\r\n".to_owned(),
    ] {
        let mut stream = served.connect();
        // The server may end it before all is sent.
        let _ = stream.write_all(request.as_bytes());
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let status = String::from_utf8_lossy(&answer).split(' ').nth(1).map(str::to_owned);
        assert!(status.is_none_or(|status| status.starts_with('4')), "{}", &request[..request.len().min(80)]);
        assert_eq!(served.ask("GET", "/", "").status, 200, "after {}", &request[..request.len().min(80)]);
    }
}

/// More connections than the server holds, of each kind that only takes up room: the others are answered within a second.
fn others_are_answered_beside(name: &str, held: usize, first: &str, requests: usize) {
    let served = Served::new(name);
    let mut waiting = Vec::new();
    let mut longest = Duration::ZERO;
    let mut asked = 0;
    while asked < requests || waiting.len() < held {
        if waiting.len() < held {
            let mut stream = served.connect();
            let _ = stream.write_all(first.as_bytes());
            waiting.push(stream);
        }
        if asked * held < waiting.len() * requests {
            let start = Instant::now();
            assert_eq!(served.ask("GET", "/www/style.css", "").status, 200);
            longest = longest.max(start.elapsed());
            asked += 1;
        }
    }
    println!(
        "counted: {held} connections, {asked} answers beside them, the slowest after {} ms",
        longest.as_millis()
    );
    assert!(longest < Duration::from_secs(1), "{longest:?}");
}

#[test]
fn idle_connections_do_not_stop_it() {
    others_are_answered_beside("idle", 1500, "", 100);
}

#[test]
fn heads_that_do_not_end_do_not_stop_it() {
    others_are_answered_beside("heads", 700, "GET / HTTP/1.1\r\nHost: local", 50);
}

#[test]
fn bodies_that_do_not_come_do_not_stop_it() {
    others_are_answered_beside(
        "bodies",
        700,
        "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 10\r\n\r\n",
        50,
    );
}

/// The whole measure: `ulimit -n 12000; cargo test --test server -- --ignored --nocapture`.
#[test]
#[ignore = "10,000 connections and 100,000 requests: a command of its own"]
fn ten_thousand_connections() {
    others_are_answered_beside("many-idle", 10_000, "", 40_000);
    others_are_answered_beside("many-heads", 10_000, "GET / HTTP/1.1\r\nHost: local", 30_000);
    let body = "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000000000000\r\n\r\n";
    others_are_answered_beside("many-bodies", 10_000, body, 30_000);
}

#[test]
fn a_head_that_does_not_come_is_not_waited_for_for_ever() {
    let served = Served::new("slow");
    let mut stream = served.connect();
    stream.write_all(b"GET / HTTP/1.1\r\nHost: localhost\r\nX: ").unwrap();
    let start = Instant::now();
    // One byte at a time does not make it longer.
    while stream.write_all(b"a").is_ok() && start.elapsed() < Duration::from_secs(12) {
        std::thread::sleep(Duration::from_millis(200));
    }
    assert!(start.elapsed() < Duration::from_secs(10), "{:?}", start.elapsed());
    let _ = stream.shutdown(Shutdown::Both);
}

/// With one file less than it needs the server cannot take a connection, says so, and ends with 1.
#[cfg(unix)]
#[test]
fn a_server_that_cannot_take_connections_says_so() {
    let folder = site("full");
    for files in 5..40 {
        let mut child = Command::new("sh")
            .args(["-c", &format!("ulimit -n {files}; exec \"$@\""), "sh", env!("CARGO_BIN_EXE_cellwright")])
            .args(["serve", "--port", "0", "--site"])
            .arg(&folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let port = line.split_once("127.0.0.1:").and_then(|(_, rest)| rest.split_once('/'));
        let stream = port.map(|port| TcpStream::connect(("127.0.0.1", port.0.parse().unwrap())));
        let output = child.wait_with_output().unwrap();
        assert!(!output.status.success());
        if stream.is_some() {
            let said = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(1), "{said}");
            assert!(said.contains("can't take connections") && said.lines().count() == 1, "{said}");
            std::fs::remove_dir_all(folder).unwrap();
            return;
        }
    }
    panic!("it never began to serve");
}
