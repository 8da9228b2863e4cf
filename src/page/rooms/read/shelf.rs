//! The shelf: the learner's own texts, the short texts of the course, and the books by kind, each with its cover. A book is
//! fetched when it is opened.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::data;
use crate::page::browser::held::{Held, use_held};
use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::read::SHELF_LINE;
use crate::page::rooms::read::course_texts::CourseText;
use crate::page::rooms::read::cover::{Cover, Face};
use crate::page::rooms::read::progress::Progress;
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::elsewhere::use_opened;
use crate::practice::reading::Reading;
use crate::practice::shelf::{self, Kind, Listed};
use crate::ueb::{self, Options};

/// What the shelf needs.
#[derive(Properties, PartialEq)]
pub struct ShelfProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The short texts of the course.
    pub texts: Rc<Vec<CourseText>>,
    /// The learner's own texts: title, and whether it is contracted.
    pub own: Vec<(String, bool)>,
    /// The title of the text that is open.
    pub open: String,
    /// How many pages were read to their end in this visit: the covers say so.
    pub read: usize,
    /// Called with a text that was opened.
    pub on_open: Callback<Rc<Reading>>,
    /// Called with the title of a text of one's own.
    pub on_own: Callback<String>,
}

const NOT_HERE: &str = "The network did not bring this book. What you have read and recorded is safe; try again when you are connected.";

/// What can be opened: fetched first, or here.
#[derive(Clone)]
enum Item<'a> {
    Book(&'a Listed),
    Text(&'a CourseText),
}

impl Item<'_> {
    fn title(&self) -> &str {
        match self {
            Item::Book(book) => &book.head.title,
            Item::Text(text) => &text.reading.title,
        }
    }

    fn words(&self) -> usize {
        match self {
            Item::Book(book) => book.words,
            Item::Text(text) => text.words,
        }
    }
}

/// The shelf.
#[component]
pub fn Shelf(props: &ShelfProps) -> Html {
    let books = use_held(|| Rc::new(Vec::<Listed>::new()));
    let said = use_held(String::new);
    let (open_at_once, line) = use_opened(Piece::Shelf);
    let unfolded = use_held(|| open_at_once);
    {
        let (books, said) = (books.clone(), said.clone());
        use_effect_with((), move |()| {
            wasm_bindgen_futures::spawn_local(async move {
                match data::file("books.txt").await {
                    Some(list) => books.set(Rc::new(shelf::parse_list(&list))),
                    None => said.set("The network did not bring the list of the shelf.".to_owned()),
                }
            });
        });
    }
    let progress = Progress::kept();
    let knows = props.learner.knows();
    let unknown = |item: &Item| match item {
        Item::Book(book) => book.signs.iter().filter(|key| **key != "space" && !knows(key)).count(),
        Item::Text(text) => text.unknown,
    };
    let after = |item: &Item| match item {
        Item::Book(book) => book.head.after,
        Item::Text(text) => text.after,
    };
    let mut order: Vec<usize> = (0..books.len()).collect();
    crate::order::sort_by_key(&mut order, |n| {
        let head = &books[*n].head;
        (head.after, head.kind, head.order)
    });
    let opener = Opener { said: said.clone(), unfolded: unfolded.clone(), on_open: props.on_open.clone() };
    // What fits best comes next: all its signs known and the furthest in the course, or else the earliest.
    let texts = props.texts.iter().map(Item::Text);
    let all: Vec<Item> = texts.chain(order.iter().map(|n| Item::Book(&books[*n]))).collect();
    let unread = |item: &&Item| !progress.through(item.title()) && item.title() != props.open;
    let fits = all.iter().filter(unread).filter(|item| unknown(item) == 0);
    let next = fits
        .min_by_key(|item| after(item))
        .or_else(|| all.iter().filter(unread).min_by_key(|item| (unknown(item), after(item))));
    let face = |item: &Item| {
        let (contracted, about) = match item {
            Item::Book(book) => (book.head.contracted, book.head.about.clone()),
            Item::Text(text) => (text.reading.contracted, String::new()),
        };
        let needs = Some((after(item), unknown(item)));
        Face { title: item.title().to_owned(), contracted, about, needs, words: item.words() }
    };
    {
        // A lesson's link names the book.
        let named = route::asked("text")
            .and_then(|title| books.iter().find(|book| book.head.title == title).cloned());
        let open = named.as_ref().map(|book| opener.of(&Item::Book(book)));
        use_effect_with(named, move |_| {
            if let Some(open) = open {
                open.emit(());
            }
        });
    }
    let cover = |item: &Item| {
        let (face, far) = (face(item), progress.of(item.title()));
        html! { <li key={item.title().to_owned()}><Cover {face} {far} open={item.title() == props.open} on_open={opener.of(item).reform(|_: MouseEvent| ())} /></li> }
    };
    let section = |name: &'static str, items: Vec<&Item>| {
        html! { <section aria-label={name}><h2>{ name }</h2><ul class="covers">{ for items.into_iter().map(&cover) }</ul></section> }
    };
    let read = all.iter().filter(|item| progress.through(item.title())).count();
    let on_toggle = {
        let unfolded = unfolded.clone();
        Callback::from(move |event: Event| {
            let details: web_sys::Element = event.target_unchecked_into();
            unfolded.set(details.has_attribute("open"));
        })
    };
    html! {
        <>
            if let Some(next) = next {
                <p class="next-book">
                    { if props.read > 0 { "Next on the shelf: " } else { "To read next: " } }
                    <button type="button" class="quiet" onclick={opener.of(next).reform(|_: MouseEvent| ())}>{ next.title() }</button>
                    { match next {
                        Item::Book(book) => format!(", a {} of {} words. {}", book.head.kind.name(), book.words, book.head.about),
                        Item::Text(text) => format!(", {} words.", text.words),
                    } }
                </p>
            }
            <p role="status">{ (*said).clone() }</p>
            <details class="bookshelf" open={*unfolded} ontoggle={on_toggle}>
                <summary ref={line}>{ SHELF_LINE }{ if books.is_empty() { String::new() } else { format!(": {} texts and books, {read} read through", all.len()) } }</summary>
                if *unfolded {
                    { own_texts(props, &progress, &unfolded) }
                    { section("Short texts of the course", all.iter().filter(|item| matches!(item, Item::Text(_))).collect()) }
                    if !books.is_empty() {
                        { for Kind::ALL.into_iter().map(|kind| section(heading(kind), all.iter().filter(|item| matches!(item, Item::Book(book) if book.head.kind == kind)).collect())) }
                        { keep_all(&books, &said) }
                    }
                }
            </details>
        </>
    }
}

fn heading(kind: Kind) -> &'static str {
    match kind {
        Kind::Board => "Board books",
        Kind::Picture => "Picture books",
        Kind::Early => "Early readers",
        Kind::Chapter => "Chapter books",
        Kind::Paper => "Papers of the ferry company",
    }
}

/// The covers of the learner's own texts; nothing where there are none.
fn own_texts(props: &ShelfProps, progress: &Progress, unfolded: &Held<bool>) -> Html {
    let cover = |(title, contracted): &(String, bool)| {
        let face = Face {
            title: title.clone(),
            contracted: *contracted,
            about: String::new(),
            needs: None,
            words: 0,
        };
        let on_open = {
            let (on_own, title, unfolded) = (props.on_own.clone(), title.clone(), unfolded.clone());
            Callback::from(move |_: MouseEvent| {
                unfolded.set(false);
                on_own.emit(title.clone());
            })
        };
        html! { <li key={title.clone()}><Cover {face} far={progress.of(title)} open={*title == props.open} {on_open} /></li> }
    };
    html! {
        if !props.own.is_empty() {
            <section aria-label="Your own"><h2>{ "Your own" }</h2><ul class="covers">{ for props.own.iter().map(cover) }</ul></section>
        }
    }
}

/// Opens what was chosen, and folds the shelf.
struct Opener {
    said: Held<String>,
    unfolded: Held<bool>,
    on_open: Callback<Rc<Reading>>,
}

impl Opener {
    fn of(&self, item: &Item) -> Callback<()> {
        let (said, unfolded, on_open) = (self.said.clone(), self.unfolded.clone(), self.on_open.clone());
        let opened = move |reading: Rc<Reading>| {
            said.set(String::new());
            unfolded.set(false);
            on_open.emit(reading);
        };
        match item {
            Item::Text(text) => {
                let reading = text.reading.clone();
                Callback::from(move |()| opened(reading.clone()))
            }
            Item::Book(book) => {
                let (file, said) = (book.file.clone(), self.said.clone());
                Callback::from(move |()| {
                    let (file, said, opened) = (file.clone(), said.clone(), opened.clone());
                    wasm_bindgen_futures::spawn_local(async move {
                        match fetched(&file).await {
                            Some(reading) => opened(Rc::new(reading)),
                            None => said.set(NOT_HERE.to_owned()),
                        }
                    });
                })
            }
        }
    }
}

/// A book from its file.
async fn fetched(file: &str) -> Option<Reading> {
    let book = shelf::parse(&data::file(&format!("shelf/{file}")).await?).ok()?;
    let options = Options { contracted: book.head.contracted, marks: true, ..Options::default() };
    Some(book.reading(&mut |print| ueb::transcribe(print, &options)))
}

/// Fetches every book once; the service worker keeps what it has seen.
fn keep_all(books: &Held<Rc<Vec<Listed>>>, said: &Held<String>) -> Html {
    let size = books.iter().map(|book| book.bytes).sum::<usize>().div_ceil(1024);
    let keep = {
        let (books, said) = (books.clone(), said.clone());
        Callback::from(move |_: MouseEvent| {
            let (books, said) = (books.clone(), said.clone());
            wasm_bindgen_futures::spawn_local(async move {
                for (n, book) in books.iter().enumerate() {
                    if data::file(&format!("shelf/{}", book.file)).await.is_none() {
                        said.set(format!(
                            "The network brought {n} of {} books. Ask again when you are connected.",
                            books.len()
                        ));
                        return;
                    }
                    if n % 10 == 9 {
                        said.set(format!("{} of {} books are here …", n + 1, books.len()));
                    }
                }
                said.set(format!(
                    "All {} books are on this computer now and can be read without a network.",
                    books.len()
                ));
            });
        })
    };
    html! {
        <p><button type="button" onclick={keep}>{ format!("Keep the whole shelf here ({size} KB)") }</button></p>
    }
}
