//! The browser's own trace: what its main thread did between a key and the paint after it.

use futures_util::{SinkExt as _, StreamExt as _};
use serde_json::{Value, json};
use tokio::net::TcpStream;
use tokio_tungstenite::tungstenite::Message;
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async};

use crate::browser::{Failed, Outcome, Session, ensure};

/// A trace being recorded.
pub struct Trace {
    socket: WebSocketStream<MaybeTlsStream<TcpStream>>,
}

/// One span of the page's main thread. Times in microseconds; `cpu` is the thread's own clock, when the browser gives
/// it.
#[derive(Clone, Debug)]
pub struct Span {
    pub name: String,
    /// The kind of event, for a span that gives an event to the page.
    pub event: String,
    pub begin: f64,
    pub end: f64,
    pub cpu: Option<(f64, f64)>,
}

impl Trace {
    /// Begins to record in the browser of this session.
    pub async fn begin(session: &Session) -> Outcome<Trace> {
        let (socket, _) = connect_async(session.debugger()?).await?;
        let mut trace = Trace { socket };
        let categories = ["devtools.timeline", "toplevel"];
        let config = json!({"includedCategories": categories, "recordMode": "recordAsMuchAsPossible"});
        trace
            .send(1, "Tracing.start", json!({"traceConfig": config, "transferMode": "ReportEvents"}))
            .await?;
        loop {
            let answer = trace.next().await?;
            if answer["id"] == 1 {
                ensure(answer.get("error").is_none(), || format!("no trace: {answer}"))?;
                return Ok(trace);
            }
        }
    }

    /// Ends the recording and gives the main thread's spans in order of their beginning.
    pub async fn end(mut self) -> Outcome<Vec<Span>> {
        self.send(2, "Tracing.end", json!({})).await?;
        let mut events = Vec::new();
        loop {
            let mut message = self.next().await?;
            match message["method"].as_str() {
                Some("Tracing.dataCollected") => {
                    if let Value::Array(more) = message["params"]["value"].take() {
                        events.extend(more);
                    }
                }
                Some("Tracing.tracingComplete") => {
                    ensure(message["params"]["dataLossOccurred"] != true, || "the trace lost events".into())?;
                    break;
                }
                _ => {}
            }
        }
        // The page's main thread is the one that gives keys to the page.
        let key = |event: &&Value| {
            event["name"] == "EventDispatch"
                && event["args"]["data"]["type"].as_str().is_some_and(|t| t.starts_with("key"))
        };
        let thread = events.iter().find(key).map(|event| (event["pid"].clone(), event["tid"].clone()));
        let thread = thread.ok_or_else(|| Failed("the trace shows no key".into()))?;
        let mut spans: Vec<Span> = events
            .iter()
            .filter(|event| event["ph"] == "X" && event["pid"] == thread.0 && event["tid"] == thread.1)
            .map(|event| {
                let number = |name: &str| event[name].as_f64();
                let begin = number("ts").unwrap_or_default();
                Span {
                    name: event["name"].as_str().unwrap_or_default().to_owned(),
                    event: event["args"]["data"]["type"].as_str().unwrap_or_default().to_owned(),
                    begin,
                    end: begin + number("dur").unwrap_or_default(),
                    cpu: number("tts").zip(number("tdur")).map(|(tts, tdur)| (tts, tts + tdur)),
                }
            })
            .collect();
        spans.sort_by(|one, two| one.begin.total_cmp(&two.begin));
        Ok(spans)
    }

    async fn send(&mut self, id: u32, method: &str, params: Value) -> Outcome {
        let text = json!({"id": id, "method": method, "params": params}).to_string();
        Ok(self.socket.send(Message::text(text)).await?)
    }

    async fn next(&mut self) -> Outcome<Value> {
        loop {
            let message = self.socket.next().await.ok_or_else(|| Failed("the browser hung up".into()))??;
            if let Message::Text(text) = message {
                return Ok(serde_json::from_str(text.as_str())?);
            }
        }
    }
}

/// For each event of this kind: the main thread's busy time in microseconds from its beginning to the end of the last
/// layout or paint before the next `stop` event, and whether it is by the thread's own clock. Keys after which nothing was painted
/// are left out.
pub fn until_painted(spans: &[Span], kind: &str, stop: &str) -> (Vec<f64>, bool) {
    let is = |span: &Span, kind: &str| span.name == "EventDispatch" && span.event == kind;
    let mut times = Vec::new();
    let by_thread = spans.iter().filter(|span| is(span, kind)).all(|span| span.cpu.is_some());
    for (at, start) in spans.iter().enumerate().filter(|(_, span)| is(span, kind)) {
        let until =
            spans[at + 1..].iter().find(|span| is(span, stop)).map_or(f64::INFINITY, |next| next.begin);
        let after = || spans[at..].iter().take_while(|span| span.begin < until);
        let painted = after()
            .filter(|span| {
                matches!(span.name.as_str(), "Layout" | "Paint" | "PrePaint" | "Layerize" | "Commit")
            })
            .max_by(|one, two| one.end.total_cmp(&two.end));
        let Some(painted) = painted.filter(|_| after().any(|span| span.name == "Paint")) else { continue };
        times.push(match (by_thread, start.cpu, painted.cpu) {
            (true, Some((begin, _)), Some((_, end))) => end - begin,
            _ => busy(&spans[at..], start.begin, painted.end),
        });
    }
    (times, by_thread)
}

/// The length of the union of spans between two times.
fn busy(spans: &[Span], begin: f64, end: f64) -> f64 {
    let (mut sum, mut upto) = (0.0, begin);
    for span in spans.iter().take_while(|span| span.begin < end) {
        let (from, to) = (span.begin.max(upto), span.end.min(end));
        if to > from {
            sum += to - from;
            upto = to;
        }
    }
    sum
}

/// Where the main thread's time goes from events of this kind to the next `stop` event: for each name of a span, and for each
/// kind of event given to the page, the mean microseconds spent in it and not in a span inside it, and how often there is one.
/// The longest first.
pub fn parts(spans: &[Span], kind: &str, stop: &str) -> Vec<(String, f64, f64)> {
    let is = |span: &Span, kind: &str| span.name == "EventDispatch" && span.event == kind;
    let mut sums: Vec<(String, f64, f64)> = Vec::new();
    let mut events = 0;
    let (mut inside, mut open): (bool, Vec<(f64, usize)>) = (false, Vec::new());
    for span in spans {
        if is(span, kind) {
            inside = true;
            events += 1;
            open.clear();
        } else if is(span, stop) {
            inside = false;
        }
        let Some((begin, end)) = span.cpu.filter(|_| inside) else { continue };
        while open.last().is_some_and(|(upto, _)| *upto <= begin) {
            open.pop();
        }
        if let Some((_, outer)) = open.last() {
            sums[*outer].1 -= end - begin;
        }
        let name =
            if span.event.is_empty() { span.name.clone() } else { format!("{} {}", span.name, span.event) };
        let place = sums.iter().position(|(known, ..)| *known == name).unwrap_or_else(|| {
            sums.push((name, 0.0, 0.0));
            sums.len() - 1
        });
        sums[place].1 += end - begin;
        sums[place].2 += 1.0;
        open.push((end, place));
    }
    for (_, sum, count) in &mut sums {
        *sum /= f64::from(events.max(1));
        *count /= f64::from(events.max(1));
    }
    sums.sort_by(|one, two| two.1.total_cmp(&one.1));
    sums
}
