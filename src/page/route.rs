//! The addresses after `#`: they are held by links and bookmarks, so they never change their meaning.

use crate::marking::summary::Practise as Cause;
use crate::practice::units;

/// Where in the house the learner is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// The first screen, `#/`.
    First,
    /// A session, `#/session`; one that begins with a unit (from 0), `#/session?unit=strong-five`, by the unit's id.
    Session(Option<usize>),
    /// One thing to practise, chosen freely, `#/practise`; what marking found is practised at `#/?practise=…`.
    Practise,
    /// The course, `#/course`; a unit's lesson, `#/course?unit=strong-h`, by the unit's id.
    Course,
    /// Reading practice, `#/read`.
    Read,
    /// Six-key writing, `#/write`.
    Write,
    /// Print to braille against a source, `#/transcribe`.
    Transcribe,
    /// Finding planted errors, `#/proofread`.
    Proofread,
    /// The chart, `#/signs`.
    Signs,
    /// The learner's record, `#/record`.
    Record,
    /// A teacher's desk, `#/set`.
    SetWork,
    /// A shared exercise, `#/x/<payload>`.
    Exercise(String),
    /// A result slip, `#/r/<payload>`.
    Slip(String),
    /// The licences of what the page brings along, `#/licences`.
    Licences,
    /// Any other address.
    Unknown,
}

/// The rooms of the navigation, in order.
pub const ROOMS: [(Route, &str, &str); 8] = [
    (Route::Course, "Course", "#/course"),
    (Route::Read, "Read", "#/read"),
    (Route::Write, "Write", "#/write"),
    (Route::Transcribe, "Transcribe", "#/transcribe"),
    (Route::Proofread, "Proofread", "#/proofread"),
    (Route::Signs, "Signs", "#/signs"),
    (Route::Record, "Record", "#/record"),
    (Route::SetWork, "Set work", "#/set"),
];

impl Route {
    /// The route of an address, with or without its `#`; a query after `?` belongs to the room, not to the address.
    pub fn of(hash: &str) -> Route {
        let path = hash.trim_start_matches('#').trim_start_matches('/');
        if let Some(payload) = path.strip_prefix("x/") {
            return Route::Exercise(payload.to_owned());
        }
        if let Some(payload) = path.strip_prefix("r/") {
            return Route::Slip(payload.to_owned());
        }
        let room = path.split('?').next().unwrap_or_default().trim_end_matches('/');
        match room {
            "" if path.contains("?practise=") => Route::Practise,
            "" => Route::First,
            "session" => Route::Session(unit_in(path)),
            "practise" => Route::Practise,
            "course" => Route::Course,
            "read" => Route::Read,
            "write" => Route::Write,
            "transcribe" => Route::Transcribe,
            "proofread" => Route::Proofread,
            "signs" => Route::Signs,
            "record" => Route::Record,
            "set" => Route::SetWork,
            "licences" => Route::Licences,
            _ => Route::Unknown,
        }
    }

    /// What the room is called, if it has a name.
    pub fn name(&self) -> Option<&'static str> {
        match self {
            Route::Exercise(_) => Some("Exercise"),
            Route::Slip(_) => Some("Result slip"),
            Route::Session(_) => Some("Session"),
            Route::Practise => Some("Practise one thing"),
            Route::Licences => Some("Licences"),
            _ => ROOMS.iter().find(|(route, _, _)| route == self).map(|(_, name, _)| *name),
        }
    }

    /// What the browser's tab says.
    pub fn title(&self) -> String {
        self.name().map_or_else(|| "Cellwright".to_owned(), |room| format!("{room} · Cellwright"))
    }

    /// The route the browser shows now.
    pub fn now() -> Route {
        Route::of(&gloo::utils::window().location().hash().unwrap_or_default())
    }
}

/// The course.
pub const COURSE: &str = "#/course";
/// The check that finds a learner's place in the course.
pub const FIND_MY_PLACE: &str = "#/course?find=place";

/// The unit that an address asks for, from 0.
fn unit_in(path: &str) -> Option<usize> {
    let (_, query) = path.split_once('?')?;
    let id = query.split('&').find_map(|part| part.strip_prefix("unit="))?;
    units::units().iter().position(|unit| unit.id == id)
}

/// The address of a session: a whole one, which goes on with what was left open, or one that begins with the signs of a
/// unit, by its place from 0.
pub fn session(from: Option<usize>) -> String {
    match from.and_then(|place| units::units().get(place)) {
        Some(unit) => format!("#/session?unit={}", unit.id),
        None => "#/session".to_owned(),
    }
}

/// What the address asks for behind its `?`, by name: `signs` of `#/?practise=signs&signs=letter%20e`.
pub fn asked(name: &str) -> Option<String> {
    let hash = gloo::utils::window().location().hash().ok()?;
    let (_, query) = hash.split_once('?')?;
    let value = query.split('&').find_map(|part| part.strip_prefix(name)?.strip_prefix('='))?;
    web_sys::js_sys::decode_uri_component(value).ok().map(String::from)
}

/// The whole address behind the `#`.
pub fn address() -> String {
    gloo::utils::window().location().hash().unwrap_or_default()
}

/// Goes to an address, `#/read` for example.
pub fn go(address: &str) {
    let _ = gloo::utils::window().location().set_hash(address);
}

/// The address that practises a cause of mistakes.
pub fn practise(cause: &Cause, contracted: bool) -> String {
    let here = Route::now();
    let from = ROOMS.iter().find(|(room, _, _)| *room == here).map_or("", |(_, _, address)| &address[2..]);
    let signs = String::from(web_sys::js_sys::encode_uri_component(&cause.signs.join("|")));
    let braille = if contracted { "contracted" } else { "uncontracted" };
    format!("#/?practise={}&signs={signs}&braille={braille}&from={from}", cause.drill)
}
