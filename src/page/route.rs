//! The addresses after `#`: they are held by links and bookmarks, so they never change their meaning.

/// Where in the house the learner is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// The first screen, `#/`.
    First,
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
    /// Any other address.
    Unknown,
}

/// The rooms of the navigation, in order.
pub const ROOMS: [(Route, &str, &str); 7] = [
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
            "" => Route::First,
            "read" => Route::Read,
            "write" => Route::Write,
            "transcribe" => Route::Transcribe,
            "proofread" => Route::Proofread,
            "signs" => Route::Signs,
            "record" => Route::Record,
            "set" => Route::SetWork,
            _ => Route::Unknown,
        }
    }

    /// What the browser's tab says.
    pub fn title(&self) -> String {
        let room = match self {
            Route::Exercise(_) => Some("Exercise"),
            Route::Slip(_) => Some("Result slip"),
            _ => ROOMS.iter().find(|(route, _, _)| route == self).map(|(_, name, _)| *name),
        };
        room.map_or_else(|| "Cellwright".to_owned(), |room| format!("{room} · Cellwright"))
    }

    /// The route the browser shows now.
    pub fn now() -> Route {
        Route::of(&gloo::utils::window().location().hash().unwrap_or_default())
    }
}

/// What the address asks for behind its `?`, by name: `signs` of `#/?practise=signs&signs=letter%20e`.
pub fn asked(name: &str) -> Option<String> {
    let hash = gloo::utils::window().location().hash().ok()?;
    let (_, query) = hash.split_once('?')?;
    let value = query.split('&').find_map(|part| part.strip_prefix(name)?.strip_prefix('='))?;
    web_sys::js_sys::decode_uri_component(value).ok().map(String::from)
}

/// Goes to an address, `#/read` for example.
pub fn go(address: &str) {
    let _ = gloo::utils::window().location().set_hash(address);
}
