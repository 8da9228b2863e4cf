//! The room "Read": the shelf, easiest first; texts of one's own; a paper book on the desk.

use std::collections::BTreeMap;
use std::rc::Rc;

use yew::prelude::*;

use super::beside::Beside;
use super::cells_line::{shown, without_glyphs};
use super::data::{OnTheWay, use_supply};
use super::learner::{LearnerHandle, use_learner};
use super::open_file::OpenFile;
use super::reader::Reader;
use super::settings::use_settings;
use super::store;
use crate::practice::reading::Reading;
use crate::practice::supply::Supply;

/// A text of the learner's own, as this browser keeps it.
#[derive(Clone, PartialEq, serde::Serialize, serde::Deserialize)]
struct Own {
    title: String,
    text: String,
    brf: bool,
    contracted: bool,
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
    let passages = supply.map(|supply| supply.passages.as_slice()).unwrap_or_default();
    let mut books: Vec<Book> = passages
        .iter()
        .map(|text| book(Reading::of_print(&text.title, &text.text, text.contracted), false))
        .chain(
            own.iter()
                .map(|text| book(Reading::of_file(&text.title, &text.text, text.brf, text.contracted), true)),
        )
        .collect();
    // Easiest first; among equals, the order of the course.
    books.sort_by(|a, b| b.known.total_cmp(&a.known));
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
    let own = use_state(|| store::load::<Vec<Own>>(OWN, 1).unwrap_or_default());
    let chosen = use_state_eq(|| None::<String>);
    let said = use_state_eq(String::new);
    let contracted = use_state_eq(|| settings.contracted);
    let pasted = use_state_eq(String::new);
    // Measured once for each set of texts, not after every answer.
    let books = {
        let learner = learner.clone();
        use_memo((stock.clone(), (*own).clone()), move |(stock, own)| {
            shelf(&learner, stock.here().map(Rc::as_ref), own)
        })
    };
    let book = chosen
        .as_ref()
        .and_then(|title| books.iter().find(|book| book.title == *title))
        .or(books.first())
        .cloned();
    let choose = {
        let chosen = chosen.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            chosen.set(Some(select.value()));
        })
    };
    let take = {
        let (own, chosen, said) = (own.clone(), chosen.clone(), said.clone());
        Rc::new(move |title: String, text: String, contracted: bool| {
            let brf = title.to_lowercase().ends_with(".brf");
            let mut all: Vec<Own> = own.iter().filter(|old| old.title != title).cloned().collect();
            all.push(Own { title: title.clone(), text, brf, contracted });
            said.set(match store::save(OWN, 1, &all) {
                Ok(()) => format!("{title} stands on your shelf now, on this computer only."),
                Err(error) => format!("{title} is open. {}", error.words()),
            });
            own.set(all);
            chosen.set(Some(title));
        })
    };
    let open = {
        let (take, contracted) = (take.clone(), *contracted);
        Callback::from(move |(title, text): (String, Rc<str>)| take(title, text.to_string(), contracted))
    };
    let refuse = {
        let said = said.clone();
        Callback::from(move |why: String| said.set(why))
    };
    let put_pasted = {
        let (take, pasted, contracted) = (take.clone(), pasted.clone(), *contracted);
        Callback::from(move |_: MouseEvent| {
            if !pasted.trim().is_empty() {
                take(format!("Pasted: {}", beginning(&pasted, contracted)), (*pasted).clone(), contracted);
                pasted.set(String::new());
            }
        })
    };
    let on_paste = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            pasted.set(event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value());
        })
    };
    let remove = {
        let (own, chosen, title) =
            (own.clone(), chosen.clone(), book.as_ref().map(|book| book.title.clone()));
        Callback::from(move |_: MouseEvent| {
            let all: Vec<Own> =
                own.iter().filter(|text| Some(&text.title) != title.as_ref()).cloned().collect();
            let _ = store::save(OWN, 1, &all);
            own.set(all);
            chosen.set(None);
        })
    };
    let switch = {
        let contracted = contracted.clone();
        Callback::from(move |_: Event| contracted.set(!*contracted))
    };
    let bookmarks = store::load::<BTreeMap<String, (usize, usize)>>(MARKS, 1).unwrap_or_default();
    let on_bookmark = {
        let title = book.as_ref().map(|book| book.title.clone()).unwrap_or_default();
        Callback::from(move |at: (usize, usize)| {
            let mut marks = store::load::<BTreeMap<String, (usize, usize)>>(MARKS, 1).unwrap_or_default();
            marks.insert(title.clone(), at);
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
                            <option value={one.title.clone()} selected={book.as_ref().is_some_and(|book| book.title == one.title)}>
                                { format!("{}{} ({}, {}% known)", if one.own { "Your own: " } else { "" }, shown(&one.title, &settings),
                                    if one.reading.contracted { "contracted" } else { "uncontracted" }, (one.known * 100.0) as u32) }
                            </option>
                        }) }
                    </select>
                </label>
                if book.as_ref().is_some_and(|book| book.own) { <button type="button" class="quiet" onclick={remove}>{ "Take it off the shelf" }</button> }
            </div>
            <p role="status">{ (*said).clone() }</p>
            if let Some(book) = &book {
                <Reader key={book.title.clone()} reading={book.reading.clone()} learner={learner.clone()}
                    start={bookmarks.get(&book.title).copied().unwrap_or_default()} {on_bookmark} />
            }
            <details class="own-text">
                <summary>{ "Read a text of your own" }</summary>
                <p>{ "A text file, a braille file (.brf) or Unicode braille. It stays on this computer." }</p>
                <label class="check"><input type="checkbox" checked={*contracted} onchange={switch} />{ "Contracted" }</label>
                <OpenFile label="File" {open} {refuse} />
                <label>{ "Or paste it here" }<textarea rows="4" value={(*pasted).clone()} oninput={on_paste} /></label>
                <p><button type="button" onclick={put_pasted}>{ "Read this" }</button></p>
            </details>
            <details>
                <summary>{ "Beside a paper book" }</summary>
                <Beside learner={learner.clone()} contracted={*contracted} />
            </details>
        </>
    }
}
