//! What a request is answered.

use http_body_util::Full;
use hyper::body::{Body as _, Bytes, Incoming};
use hyper::header::{self, HeaderMap, HeaderValue};
use hyper::http::uri::Authority;
use hyper::{Method, Request, Response, StatusCode};

use super::files::{File, Site};

type Answer = Response<Full<Bytes>>;

/// The answer to a request.
pub fn to(request: &Request<Incoming>, site: &Site) -> Answer {
    if !loopback(request) {
        return say(StatusCode::MISDIRECTED_REQUEST, "This server answers to names of this computer only.");
    }
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        let mut answer = say(StatusCode::METHOD_NOT_ALLOWED, "Only GET and HEAD.");
        answer.headers_mut().insert(header::ALLOW, HeaderValue::from_static("GET, HEAD"));
        return answer;
    }
    if !request.body().is_end_stream() {
        return say(StatusCode::PAYLOAD_TOO_LARGE, "This server takes nothing but requests.");
    }
    match site.file(request.uri().path()) {
        Ok(Some(file)) => whole(&file, request.headers()),
        Ok(None) => say(StatusCode::NOT_FOUND, "Not found."),
        Err(_) => say(StatusCode::SERVICE_UNAVAILABLE, "This file can't be read just now."),
    }
}

/// The answer when answering went wrong.
pub fn failed() -> Answer {
    say(StatusCode::INTERNAL_SERVER_ERROR, "The server could not answer this.")
}

/// A file, packed for those who take it so; nothing but its name where it is known already.
fn whole(file: &File, asked: &HeaderMap) -> Answer {
    let packed = takes_gzip(asked) && file.gzip.len() < file.plain.len();
    let tag = format!("\"{}{}\"", file.tag, if packed { "-gzip" } else { "" });
    let known = list(asked, header::IF_NONE_MATCH)
        .any(|one| one == "*" || one.strip_prefix("W/").unwrap_or(one) == tag);
    let mut answer = match known {
        true => with(StatusCode::NOT_MODIFIED, file.kind, Bytes::new()),
        false => with(StatusCode::OK, file.kind, if packed { file.gzip.clone() } else { file.plain.clone() }),
    };
    let headers = answer.headers_mut();
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        headers.insert(header::ETAG, tag);
    }
    headers.insert(header::VARY, HeaderValue::from_static("Accept-Encoding"));
    if known {
        headers.remove(header::CONTENT_TYPE);
    } else if packed {
        headers.insert(header::CONTENT_ENCODING, HeaderValue::from_static("gzip"));
    }
    answer
}

fn say(status: StatusCode, words: &'static str) -> Answer {
    with(status, "text/plain; charset=utf-8", Bytes::from_static(words.as_bytes()))
}

/// An answer with what stands in all of them: the content is what it is said to be, no other site shows or loads it, and
/// a browser asks each time whether it has changed.
fn with(status: StatusCode, kind: &'static str, body: Bytes) -> Answer {
    let mut answer = Response::new(Full::new(body));
    *answer.status_mut() = status;
    for (name, value) in [
        (header::CONTENT_TYPE, kind),
        (header::CACHE_CONTROL, "no-cache"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::CONTENT_SECURITY_POLICY, "frame-ancestors 'none'"),
        (header::X_FRAME_OPTIONS, "DENY"),
        (header::HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (header::REFERRER_POLICY, "no-referrer"),
    ] {
        answer.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    answer
}

/// Whether the request names this computer. A name of somebody's own that leads here would make the page part of their
/// site, with all that is stored in it.
fn loopback(request: &Request<Incoming>) -> bool {
    let mut named = request.headers().get_all(header::HOST).iter().map(HeaderValue::as_bytes);
    let (Some(name), None) = (named.next(), named.next()) else { return false };
    let ours = |name: &Authority| {
        let host = name.host().to_ascii_lowercase();
        !name.as_str().contains('@') && ["localhost", "127.0.0.1", "[::1]"].contains(&host.as_str())
    };
    Authority::try_from(name).is_ok_and(|name| ours(&name)) && request.uri().authority().is_none_or(ours)
}

/// The parts of a header field that holds a list.
fn list(asked: &HeaderMap, name: header::HeaderName) -> impl Iterator<Item = &str> {
    asked
        .get_all(name)
        .into_iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(str::trim)
}

/// Whether gzip is taken (RFC 9110, section 12.5.3).
fn takes_gzip(asked: &HeaderMap) -> bool {
    let taken = list(asked, header::ACCEPT_ENCODING).map(|one| {
        let (coding, more) = one.split_once(';').unwrap_or((one, ""));
        let weight = more.split_once('=').map_or("1", |(_, weight)| weight.trim());
        let taken = weight.parse::<f32>().is_ok_and(|weight| weight > 0.0);
        (coding.trim().to_ascii_lowercase(), taken)
    });
    let taken: Vec<_> = taken.collect();
    let of = |coding: &str| taken.iter().find(|(one, _)| one == coding).map(|(_, taken)| *taken);
    of("gzip").or_else(|| of("*")).unwrap_or(false)
}
