//! The room "Read": the shelf, easiest first; texts of one's own; a paper book on the desk.

use std::rc::Rc;

use wasm_bindgen::{JsCast, JsValue};
use web_sys::js_sys::Object;
use yew::prelude::*;

use super::beside::{Beside, BesideProps};
use super::cells_line::{shown, without_glyphs};
use super::data::{OnTheWay, use_supply};
use super::halves::{Elsewhere, Later, WHOLE, leave_text, text_left, use_opened};
use super::held::{Held, use_held};
use super::learner::{LearnerHandle, use_learner};
use super::long_work;
use super::open_file::OpenFile;
use super::reader::Reader;
use super::settings::use_settings;
use super::store;
use super::stored::{Stored, object, part};
use crate::practice::reading::Reading;
use crate::practice::supply::Supply;

/// A text of the learner's own, as this browser keeps it.
#[derive(Clone, PartialEq)]
struct Own {
    title: String,
    text: String,
    brf: bool,
    contracted: bool,
}

impl Stored for Own {
    fn take(value: &JsValue) -> Option<Self> {
        Some(Own {
            title: part(value, "title")?,
            text: part(value, "text")?,
            brf: part(value, "brf")?,
            contracted: part(value, "contracted")?,
        })
    }
    fn give(&self) -> JsValue {
        let Own { title, text, brf, contracted } = self;
        object(&[
            ("title", title.give()),
            ("text", text.give()),
            ("brf", brf.give()),
            ("contracted", contracted.give()),
        ])
    }
}

/// Page and line at which each text is open.
#[derive(Default)]
struct Bookmarks(Vec<(String, (usize, usize))>);

impl Bookmarks {
    fn kept() -> Self {
        store::load(MARKS, 1).unwrap_or_default()
    }

    fn at(&self, title: &str) -> (usize, usize) {
        self.0.iter().find(|(known, _)| known == title).map(|(_, at)| *at).unwrap_or_default()
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

const OWN: &str = "shelf";
const MARKS: &str = "bookmarks";
/// Pages of a long text that are measured against what the learner knows.
const MEASURED: usize = 20;

/// What stands on the shelf.
#[derive(Clone, PartialEq)]
struct Book {
    title: String,
    own: bool,
    reading: Rc<Reading>,
    /// The share of its cells that the learner knows, 0 to 1.
    known: f64,
}

fn shelf(learner: &LearnerHandle, supply: Option<&Supply>, own: &[Own]) -> Vec<Book> {
    let knows = learner.knows();
    let book = |reading: Reading, own: bool| Book {
        title: reading.title.clone(),
        own,
        known: reading.known(MEASURED, &knows).0,
        reading: Rc::new(reading),
    };
    let mut books: Vec<Book> = supply
        .into_iter()
        .flat_map(Supply::readings)
        .map(|reading| book(reading, false))
        .chain(
            own.iter()
                .filter(|_| WHOLE)
                .map(|text| book(Reading::of_file(&text.title, &text.text, text.brf, text.contracted), true)),
        )
        .collect();
    // Easiest first; among equals, the order of the course.
    crate::order::sort_by(&mut books, |a, b| b.known.total_cmp(&a.known));
    books
}

/// The first words of a pasted text, in print though it be braille.
fn beginning(text: &str, contracted: bool) -> String {
    let words: Vec<String> = if without_glyphs(text) == text {
        text.split_whitespace().take(5).map(str::to_owned).collect()
    } else {
        let reading = Reading::of_file("", text, false, contracted);
        reading.words(0).iter().flatten().take(5).map(|word| without_glyphs(&word.print)).collect()
    };
    words.join(" ").chars().take(40).collect()
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let settings = use_settings();
    let stock = use_supply();
    let own = use_state(|| Rc::new(store::load::<Vec<Own>>(OWN, 1).unwrap_or_default()));
    let chosen = use_held(text_left);
    let contracted = use_held(|| settings.contracted);
    // Long texts of one's own are opened after a word about it.
    let length = own.iter().map(|text| text.text.len()).sum::<usize>();
    let opened = use_held(|| length < long_work::LONG);
    {
        let opened = opened.clone();
        use_effect_with((), move |()| {
            if WHOLE && !*opened {
                long_work::on(length, move || opened.set(true));
            }
        });
    }
    // Measured once for each set of texts, not after every answer.
    let books = {
        let learner = learner.clone();
        use_memo((stock.clone(), (*own).clone(), *opened), move |(stock, own, opened)| {
            if *opened { shelf(&learner, stock.here().map(Rc::as_ref), own) } else { Vec::new() }
        })
    };
    if !WHOLE && !own.is_empty() {
        return html! { <Elsewhere /> };
    }
    let book = chosen
        .as_ref()
        .and_then(|title| books.iter().find(|book| book.title == *title))
        .or(books.first())
        .cloned();
    let choose = {
        let chosen = chosen.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            leave_text(&select.value());
            chosen.set(Some(select.value()));
        })
    };
    let title = book.as_ref().map(|book| book.title.clone()).unwrap_or_default();
    let bookmarks = Bookmarks::kept();
    let on_bookmark = {
        let title = title.clone();
        Callback::from(move |at: (usize, usize)| {
            let mut marks = Bookmarks::kept();
            marks.0.retain(|(known, _)| *known != title);
            marks.0.push((title.clone(), at));
            // A bookmark that cannot be kept is no reason to disturb the reading.
            let _ = store::save(MARKS, 1, &marks);
        })
    };
    html! {
        <>
            <h1>{ "Read" }</h1>
            <OnTheWay />
            <div class="controls shelf">
                <label>{ "Text, easiest first " }
                    <select onchange={choose}>
                        { for books.iter().map(|one| html! {
                            <option value={one.title.clone()} selected={title == one.title}>
                                { format!("{}{} ({}, {}% known)", if one.own { "Your own: " } else { "" }, shown(&one.title, &settings),
                                    if one.reading.contracted { "contracted" } else { "uncontracted" }, (one.known * 100.0) as u32) }
                            </option>
                        }) }
                    </select>
                </label>
                if WHOLE && book.as_ref().is_some_and(|book| book.own) {
                    <button type="button" class="quiet" onclick={remove(&own, &chosen, title.clone())}>{ "Take it off the shelf" }</button>
                }
            </div>
            if let Some(book) = &book {
                <Reader key={book.title.clone()} reading={book.reading.clone()} learner={learner.clone()}
                    start={bookmarks.at(&book.title)} {on_bookmark} />
            }
            if WHOLE {
                <OwnText own={(*own).clone()} contracted={*contracted} on_contracted={setter(&contracted)} take={taken(&own, &chosen)} />
                <BesideBook {learner} contracted={*contracted} />
            } else {
                <Later summary={OWN_LINE} then="own text" class="own-text" />
                <Later summary={BOOK_LINE} then="paper book" />
            }
        </>
    }
}

const OWN_LINE: &str = "Read a text of your own";
const BOOK_LINE: &str = "Beside a paper book";

type OwnTexts = UseStateHandle<Rc<Vec<Own>>>;

fn remove(own: &OwnTexts, chosen: &Held<Option<String>>, title: String) -> Callback<MouseEvent> {
    let (own, chosen) = (own.clone(), chosen.clone());
    Callback::from(move |_: MouseEvent| {
        let all: Vec<Own> = own.iter().filter(|text| text.title != title).cloned().collect();
        let _ = store::save(OWN, 1, &all);
        own.set(Rc::new(all));
        chosen.set(None);
    })
}

fn setter(contracted: &Held<bool>) -> Callback<bool> {
    let contracted = contracted.clone();
    Callback::from(move |on| contracted.set(on))
}

/// Takes what the shelf holds now, and which text is chosen of it.
fn taken(own: &OwnTexts, chosen: &Held<Option<String>>) -> Callback<(Vec<Own>, String)> {
    let (own, chosen) = (own.clone(), chosen.clone());
    Callback::from(move |(all, title)| {
        own.set(Rc::new(all));
        chosen.set(Some(title));
    })
}

#[derive(Properties, PartialEq)]
struct OwnTextProps {
    own: Rc<Vec<Own>>,
    contracted: bool,
    on_contracted: Callback<bool>,
    take: Callback<(Vec<Own>, String)>,
}

/// A file or a pasted text goes on the shelf.
#[component]
fn OwnText(props: &OwnTextProps) -> Html {
    let (open_at_once, line) = use_opened("own text");
    let said = use_held(String::new);
    let pasted = use_held(String::new);
    let contracted = props.contracted;
    let take = {
        let (own, on_take, said) = (props.own.clone(), props.take.clone(), said.clone());
        Rc::new(move |title: String, text: String| {
            let brf = title.to_ascii_lowercase().ends_with(".brf");
            let mut all: Vec<Own> = own.iter().filter(|old| old.title != title).cloned().collect();
            all.push(Own { title: title.clone(), text, brf, contracted });
            said.set(match store::save(OWN, 1, &all) {
                Ok(()) => format!("{title} stands on your shelf now, on this computer only."),
                Err(error) => format!("{title} is open. {}", error.words()),
            });
            on_take.emit((all, title));
        })
    };
    let open = {
        let take = take.clone();
        Callback::from(move |(title, text): (String, Rc<str>)| take(title, text.to_string()))
    };
    let refuse = {
        let said = said.clone();
        Callback::from(move |why: String| said.set(why))
    };
    let put_pasted = {
        let (take, pasted) = (take.clone(), pasted.clone());
        Callback::from(move |_: MouseEvent| {
            if !pasted.trim().is_empty() {
                let (take, pasted) = (take.clone(), pasted.clone());
                long_work::on(pasted.len(), move || {
                    take(format!("Pasted: {}", beginning(&pasted, contracted)), (*pasted).clone());
                    pasted.set(String::new());
                });
            }
        })
    };
    let on_paste = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            pasted.set(event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value());
        })
    };
    let switch = props.on_contracted.reform(move |_: Event| !contracted);
    html! {
        <>
            <p role="status">{ (*said).clone() }</p>
            <details class="own-text" open={open_at_once}>
                <summary ref={line}>{ OWN_LINE }</summary>
                <p>{ "A text file, a braille file (.brf) or Unicode braille. It stays on this computer." }</p>
                <label class="check"><input type="checkbox" checked={contracted} onchange={switch} />{ "Contracted" }</label>
                <OpenFile label="File" {open} {refuse} />
                <label>{ "Or paste it here" }<textarea rows="4" value={(*pasted).clone()} oninput={on_paste} /></label>
                <p><button type="button" onclick={put_pasted}>{ "Read this" }</button></p>
            </details>
        </>
    }
}

#[component]
fn BesideBook(props: &BesideProps) -> Html {
    let (open_at_once, line) = use_opened("paper book");
    html! {
        <details open={open_at_once}>
            <summary ref={line}>{ BOOK_LINE }</summary>
            <Beside learner={props.learner.clone()} contracted={props.contracted} />
        </details>
    }
}
