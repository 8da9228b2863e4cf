//! One text on its sheet: where the reader is, how fast it goes, and what is kept of it. What each step changes is decided
//! in `practice::reader`.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::browser::speech;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::read::answer::Answer;
use crate::page::rooms::read::find::Find;
use crate::page::rooms::read::progress::{Bookmarks, Finished, Progress};
use crate::page::rooms::read::reader_view::{View, ViewControls, use_room};
use crate::page::rooms::read::sheet_side::{OnSheet, sheet_side, turning};
use crate::page::widgets::cells_line;
use crate::practice::reader::{Action, State, print_of};
use crate::practice::reading::{HEIGHT, Reading, WIDTH};
use crate::practice::record::Event;

/// A text to read.
#[derive(Properties, PartialEq)]
pub struct ReaderProps {
    /// The text.
    pub reading: Rc<Reading>,
    /// The learner.
    pub learner: LearnerHandle,
    /// Called when a page was read to its end.
    #[prop_or_default]
    pub on_finish: Callback<Finished>,
    /// Whether more pages are being laid out.
    #[prop_or_default]
    pub growing: bool,
    /// What is said of the text above its sheet.
    #[prop_or_default]
    pub children: Html,
}

/// The text on its sheet. Give it a `key` that is its title.
#[component]
pub fn Reader(props: &ReaderProps) -> Html {
    let settings = use_settings();
    let ReaderProps { reading, learner, on_finish, growing, children } = props;
    let view = use_held(View::kept);
    let held = use_held(|| {
        let (page, line) = Bookmarks::kept().at(&reading.title);
        State::at(page, line)
    });
    let pages = reading.count().max(1);
    let mut state = (*held).clone();
    // A page that is not yet laid out is waited for.
    if !growing {
        state.page = state.page.min(pages - 1);
    }
    let state = Rc::new(state);
    let (place, room) = use_room();
    let full = use_memo((reading.clone(), state.page), |(reading, page)| reading.width(*page).max(WIDTH));
    let (dot, fitting) = view.size(room, *full);
    let numbers = settings.dot_numbers_only;
    let page =
        use_memo((reading.clone(), state.page, fitting, numbers), |(reading, page, fitting, numbers)| {
            let mut page = reading.on_screen(*page, *fitting);
            // A cell that reads as nothing stands in the print as itself.
            for word in page.words.iter_mut().flatten().filter(|_| *numbers) {
                word.print = cells_line::without_glyphs(&word.print);
            }
            page
        });
    let since = use_mut_ref(now);
    {
        let since = since.clone();
        use_effect_with(state.page, move |_| *since.borrow_mut() = now());
    }
    let act = {
        let (held, state, page, title) = (held.clone(), state.clone(), page.clone(), reading.title.clone());
        Callback::from(move |action: Action| {
            if action == Action::Aloud {
                let words = page.words.get(state.within(&page).0);
                speech::say(&words.map(|words| print_of(words)).unwrap_or_default());
            }
            let new = state.after(&page, action);
            if (new.page, new.line) != (state.page, state.line) {
                Bookmarks::put(&title, (new.page, new.line));
            }
            held.set(new);
        })
    };
    let finish = {
        let (since, state, page, act) = (since.clone(), state.clone(), page.clone(), act.clone());
        let (learner, title, on_finish) = (learner.clone(), reading.title.clone(), on_finish.clone());
        Callback::from(move |_: MouseEvent| {
            let ms = now().saturating_sub(*since.borrow()).max(1);
            let all: usize = page.words.iter().map(Vec::len).sum();
            let count =
                page.lines.iter().flat_map(|line| &line.cells).filter(|cell| !cell.is_blank()).count();
            let lost = state.missed_here();
            let a_minute = |n: usize| n as u64 * 60_000 / ms;
            let done = Finished { title: title.clone(), page: state.page, pages, words: all, ms };
            Progress::note(&done);
            on_finish.emit(done);
            learner.add(Event::Text {
                title: title.clone(),
                words: all as u32,
                cells: count as u32,
                ms,
                missed: lost as u32,
            });
            *since.borrow_mut() = now();
            act.emit(Action::Finished(format!(
                "{all} words, {count} cells: {} words and {} cells a minute; {lost} words uncovered or wrong, {}% read.",
                a_minute(all),
                a_minute(count),
                100 * all.saturating_sub(lost) / all.max(1)
            )));
        })
    };
    let set_view = {
        let view = view.clone();
        Callback::from(move |new: View| {
            new.keep();
            view.set(new);
        })
    };
    let behind = {
        // The other side of the sheet is the next page; the last page's, the one before.
        let other = if state.page + 1 < pages { state.page + 1 } else { state.page.saturating_sub(1) };
        use_memo((reading.clone(), other), |(reading, other)| {
            Rc::new(reading.page(*other).iter().map(|line| line.cells.clone()).collect::<Vec<_>>())
        })
    };
    let knows = learner.knows();
    let (share, unknown) = reading.known(state.page..state.page + 1, knows);
    let title = cells_line::shown(&reading.title, &settings);
    let narrow = reading.width(state.page) > fitting;
    let on_sheet = OnSheet {
        state: &state,
        page: &page,
        pages,
        behind: (*behind).clone(),
        view: *view,
        dot,
        fitting,
        title: &title,
        older: reading.older,
        contracted: reading.contracted,
    };
    let found = {
        let (act, reading) = (act.clone(), reading.clone());
        Callback::from(move |(page, line): (usize, usize)| {
            act.emit(Action::Turn(page, reading.line_on_screen(page, line, fitting)));
        })
    };
    html! {
        <>
            <ViewControls view={*view} {dot} {narrow} set={set_view} />
            <div class="reading-room">
                <div ref={place}>
                    <h2>{ &title }</h2>
                    <p class="sr" aria-live="polite">{ format!("Page {} of {}", state.page + 1, pages) }</p>
                    <p class="note">{ page_note(state.page, pages, share, *growing) }</p>
                    { children.clone() }
                    if narrow { <p class="note">{ format!("Lines are broken for this screen, after {fitting} cells; a sheet has {}.", *full) }</p> }
                    { sheet_side(&on_sheet, learner, &settings, &act) }
                </div>
                <Answer state={(*state).clone()} page={page.clone()} reading={reading.clone()} learner={learner.clone()} {unknown} since={*since.borrow()} act={act.clone()} />
                // After the answer, which stays in sight and would cover it.
                <div>
                    { turning(&on_sheet, &act, finish) }
                    if pages > 1 { <Find reading={reading.clone()} {found} /> }
                </div>
            </div>
            <p class="sr">{ format!("A full page has {HEIGHT} lines of {WIDTH} cells.") }</p>
        </>
    }
}

/// Which page it is, and how much of it is known.
fn page_note(page: usize, pages: usize, share: f64, growing: bool) -> String {
    let so_far = if growing { " so far" } else { "" };
    if page >= pages {
        return format!("Page {}; {pages} pages are laid out so far.", page + 1);
    }
    format!("Page {} of {pages}{so_far}. You know {}% of the cells here.", page + 1, (share * 100.0) as u32)
}
