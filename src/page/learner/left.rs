//! What the learner left open in the rooms, for the first screen: a text and its page, lines that were being written. It is
//! read from what the rooms keep for themselves.

use wasm_bindgen::JsCast;
use web_sys::js_sys::{JSON, Object, Reflect, encode_uri_component};

use crate::page::browser::store;
use crate::page::browser::stored::Stored;

/// One thing that was left open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// The address of its room.
    pub address: String,
    /// The text's title, or what was being done.
    pub title: String,
    /// The page or the lines.
    pub place: String,
}

/// The page and the line at which each text is open, the latest last, as the room Read keeps them.
const MARKS: &str = "cellwright.bookmarks";
/// What the keys of written work begin with, by the room.
const WORK: [(&str, &str, &str); 2] = [
    ("cellwright.work.write.", "#/write", "Write"),
    ("cellwright.work.transcribe.", "#/transcribe", "Transcribe"),
];

/// What was left open: the text that was read last, and work in the writing rooms.
pub fn left_in_rooms() -> Vec<Left> {
    let mut all: Vec<Left> = text_read_last().into_iter().collect();
    let keys = store::keys();
    for (prefix, address, title) in WORK {
        let lines = keys.iter().filter(|key| key.starts_with(prefix)).filter_map(|key| lines_of(key)).max();
        if let Some(lines) = lines.filter(|lines| *lines > 0) {
            let place =
                if lines == 1 { "1 line written".to_owned() } else { format!("{lines} lines written") };
            all.push(Left { address: address.to_owned(), title: title.to_owned(), place });
        }
    }
    all
}

fn text_read_last() -> Option<Left> {
    let kept = JSON::parse(&store::text(MARKS)?).ok()?;
    let marks = Reflect::get(&kept, &"value".into()).ok()?;
    let marks: Vec<(String, (usize, usize))> = Stored::take(&Object::entries(marks.dyn_ref()?))?;
    let (title, (page, line)) = marks.last().filter(|(_, at)| *at != (0, 0))?;
    let address = format!("#/read?text={}", String::from(encode_uri_component(title)));
    let place = if *line == 0 {
        format!("page {}", page + 1)
    } else {
        format!("page {}, line {}", page + 1, line + 1)
    };
    Some(Left { address, title: title.clone(), place })
}

/// How many lines of written work are kept under a key.
fn lines_of(key: &str) -> Option<usize> {
    let kept = JSON::parse(&store::text(key)?).ok()?;
    let value = Reflect::get(&kept, &"value".into()).ok()?;
    let lines: Vec<String> = Stored::take(&Reflect::get(&value, &"lines".into()).ok()?)?;
    Some(lines.iter().filter(|line| !line.trim().is_empty()).count())
}
