//! How far each text was read, and at which line each is open, as this browser keeps it.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::js_sys::Object;

use crate::page::browser::store;
use crate::page::browser::stored::{Stored, object};

const PROGRESS: &str = "books";
const MARKS: &str = "bookmarks";

/// A page that was read to its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Finished {
    /// The title of its text.
    pub title: String,
    /// Which page it is, from 0.
    pub page: usize,
    /// How many pages there are.
    pub pages: usize,
    /// How many words it has.
    pub words: usize,
    /// How long it took, in milliseconds.
    pub ms: u64,
}

/// How far a text was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Far {
    /// Pages read to their end.
    pub read: usize,
    /// Pages in all.
    pub pages: usize,
    /// Words a minute.
    pub speed: usize,
}

impl Far {
    /// Whether all of it was read.
    pub fn through(self) -> bool {
        self.pages > 0 && self.read >= self.pages
    }
}

/// How far each text was read: how many pages it has, words and milliseconds of what was read of it, and its pages that
/// were read to their end.
#[derive(Default)]
pub struct Progress(Vec<(String, Vec<usize>)>);

impl Stored for Progress {
    fn take(value: &JsValue) -> Option<Self> {
        Stored::take(&Object::entries(value.dyn_ref()?)).map(Progress)
    }
    fn give(&self) -> JsValue {
        let parts: Vec<(&str, JsValue)> =
            self.0.iter().map(|(title, read)| (title.as_str(), read.give())).collect();
        object(&parts)
    }
}

impl Progress {
    /// As it was kept.
    pub fn kept() -> Progress {
        store::load(PROGRESS, 1).unwrap_or_default()
    }

    /// Keeps that a page was read to its end.
    pub fn note(done: &Finished) {
        let mut all = Progress::kept();
        let place = match all.0.iter().position(|(title, _)| *title == done.title) {
            Some(place) => place,
            None => {
                all.0.push((done.title.clone(), vec![0; 3]));
                all.0.len() - 1
            }
        };
        let read = &mut all.0[place].1;
        read.resize(read.len().max(3), 0);
        read[0] = done.pages;
        // A page read anew counts once; so does its time.
        if !read[3..].contains(&done.page) {
            read[1] += done.words;
            read[2] = read[2].saturating_add(usize::try_from(done.ms).unwrap_or(usize::MAX));
            read.push(done.page);
        }
        // How far a text was read is no reason to disturb the reading.
        let _ = store::save(PROGRESS, 1, &all);
    }

    /// How far a text was read; `None` for one that was not begun.
    pub fn of(&self, title: &str) -> Option<Far> {
        let (_, read) = self.0.iter().find(|(known, _)| known == title)?;
        let [pages, words, ms, done @ ..] = read.as_slice() else { return None };
        Some(Far { read: done.len(), pages: *pages, speed: words * 60_000 / (*ms).max(1) })
    }

    /// Whether a text was read through.
    pub fn through(&self, title: &str) -> bool {
        self.of(title).is_some_and(Far::through)
    }
}

/// Page and line at which each text is open.
#[derive(Default)]
pub struct Bookmarks(Vec<(String, (usize, usize))>);

impl Bookmarks {
    /// As they were kept.
    pub fn kept() -> Self {
        store::load(MARKS, 1).unwrap_or_default()
    }

    /// Where a text is open.
    pub fn at(&self, title: &str) -> (usize, usize) {
        self.0.iter().find(|(known, _)| known == title).map(|(_, at)| *at).unwrap_or_default()
    }

    /// Keeps where a text is open.
    pub fn put(title: &str, at: (usize, usize)) {
        let mut marks = Bookmarks::kept();
        marks.0.retain(|(known, _)| known != title);
        marks.0.push((title.to_owned(), at));
        // A bookmark that cannot be kept is no reason to disturb the reading.
        let _ = store::save(MARKS, 1, &marks);
    }
}

impl Stored for Bookmarks {
    fn take(value: &JsValue) -> Option<Self> {
        Stored::take(&Object::entries(value.dyn_ref()?)).map(Bookmarks)
    }
    fn give(&self) -> JsValue {
        let parts: Vec<(&str, JsValue)> =
            self.0.iter().map(|(title, at)| (title.as_str(), at.give())).collect();
        object(&parts)
    }
}
