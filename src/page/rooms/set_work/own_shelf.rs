//! Set work, a teacher's own exercises: kept in this browser, opened to be changed, put together to a set.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::own::{Opened, Own};
use crate::exercise::set::{EXERCISES, Set};
use crate::exercise::{Exercise, TITLE};
use crate::page::browser::held::use_held;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::saving::save;
use crate::page::browser::site;
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::set_work::send::Send;
use crate::page::rooms::set_work::set_details::DetailsProps;
use crate::page::widgets::cells_line::shown;
use crate::page::widgets::fields::text_of;
use crate::page::widgets::switch::Switch;

/// Where the shelf is kept.
const KEY: &str = "cellwright.exercises";
/// Where the set in the making is kept.
const SET: &str = "set.many";
/// A link that is pasted and not put on the shelf yet.
const PASTED: &str = "work.exercise.pasted";
const VERSION: u32 = 1;

/// The shelf, the set in the making, and what was said last.
#[derive(Clone, Default, PartialEq)]
struct Shelf {
    own: Own,
    set: Set,
    said: String,
}

enum Act {
    Keep(Exercise),
    Drop(usize),
    Take(String),
    Add(usize),
    Leave(usize),
    Earlier(usize),
    Name(String),
    InOrder(bool),
    Say(String),
}

impl Reducible for Shelf {
    type Action = Act;
    fn reduce(self: Rc<Self>, act: Act) -> Rc<Self> {
        let mut new = (*self).clone();
        new.said.clear();
        let set = &mut new.set;
        match act {
            Act::Keep(one) => {
                let kept = new.own.keep(&one);
                new.said =
                    if kept { "It is on your shelf." } else { "It stands on your shelf already." }.to_owned();
            }
            Act::Drop(at) => new.own.drop(at),
            Act::Take(text) => new.said = said_of(&new.own.take(&text)),
            Act::Add(_) if set.exercises.len() >= EXERCISES => {
                new.said = format!("A set holds {EXERCISES} exercises.");
            }
            Act::Add(at) => set.exercises.extend(new.own.exercises().get(at).cloned()),
            Act::Leave(at) if at < set.exercises.len() => {
                set.exercises.remove(at);
            }
            Act::Earlier(at) if at > 0 && at < set.exercises.len() => set.exercises.swap(at, at - 1),
            Act::Leave(_) | Act::Earlier(_) => {}
            Act::Name(title) => set.title = title,
            Act::InOrder(on) => set.in_order = on,
            Act::Say(what) => new.said = what,
        }
        Rc::new(new)
    }
}

fn said_of(opened: &Opened) -> String {
    let count =
        |number: usize| if number == 1 { "1 exercise".to_owned() } else { format!("{number} exercises") };
    let mut parts = Vec::new();
    if opened.new > 0 {
        parts.push(format!("{} put on your shelf", count(opened.new)));
    }
    if opened.doubled > 0 {
        parts.push(format!("{} there already", count(opened.doubled)));
    }
    if !opened.refused.is_empty() {
        parts.push(format!(
            "{} could not be opened: ask for the link or file again",
            count(opened.refused.len())
        ));
    }
    if parts.is_empty() {
        "There is no exercise in this.".to_owned()
    } else {
        format!("{}.", parts.join("; "))
    }
}

/// The shelf and the set: `<OwnShelf set=.. put=.. />`.
#[component]
pub fn OwnShelf(props: &DetailsProps) -> Html {
    let settings = use_settings();
    let shelf = use_reducer(|| {
        let mut own = Own::default();
        if !own.take(&store::text(KEY).unwrap_or_default()).refused.is_empty() {
            // Perhaps a later version's: it would go when the shelf is kept again.
            store::read_in_part("exercises");
        }
        Shelf { own, set: store::load_any(SET, VERSION).unwrap_or_default(), said: String::new() }
    });
    let full = use_state(|| None::<&'static str>);
    {
        let full = full.clone();
        use_effect_with((shelf.own.clone(), shelf.set.clone()), move |(own, set)| {
            // A shelf that nobody has used is not kept. What stands there is not looked at otherwise: what another tab has
            // taken in meanwhile counts as unseen, and is set aside.
            if *own == Own::default() && *set == Set::default() && store::text(KEY).is_none() {
                return;
            }
            let kept = store::keep_text(KEY, &own.to_text()).and(store::save_any(SET, VERSION, set));
            full.set(kept.err().map(|error| error.words()));
        });
    }
    let pasted = use_held(|| store::load::<String>(PASTED, 1).unwrap_or_default());
    let act = |act: fn(usize) -> Act| {
        let shelf = shelf.clone();
        move |at: usize| {
            let shelf = shelf.clone();
            Callback::from(move |_: MouseEvent| shelf.dispatch(act(at)))
        }
    };
    let (add, drop) = (act(Act::Add), act(Act::Drop));
    let keep = {
        let (shelf, set) = (shelf.clone(), props.set.clone());
        Callback::from(move |_: MouseEvent| shelf.dispatch(Act::Keep((*set).clone())))
    };
    let change = |at: usize| {
        let (shelf, put) = (shelf.clone(), props.put.clone());
        Callback::from(move |_: MouseEvent| {
            if let Some(one) = shelf.own.exercises().get(at) {
                put.emit(one.clone());
                shelf.dispatch(Act::Say("It stands above, as a copy: what you change makes another exercise, and links of the one before stay as they are.".to_owned()));
            }
        })
    };
    let take = {
        let shelf = shelf.clone();
        Callback::from(move |text: String| shelf.dispatch(Act::Take(text)))
    };
    let paste = {
        let (take, pasted) = (take.clone(), pasted.clone());
        Callback::from(move |_: MouseEvent| {
            take.emit((*pasted).clone());
            // What could not be opened stays, to be mended.
            let left = Own::not_taken(&pasted);
            if left.is_empty() {
                store::forget(PASTED);
            } else {
                let _ = store::save(PASTED, 1, &left);
            }
            pasted.set(left);
        })
    };
    let refuse = {
        let shelf = shelf.clone();
        Callback::from(move |why: String| shelf.dispatch(Act::Say(why)))
    };
    let save_all = {
        let shelf = shelf.clone();
        Callback::from(move |_: MouseEvent| save("exercises.txt", &shelf.own.to_text()))
    };
    let title = |set: &Exercise| {
        if set.title.is_empty() { set.task.words().to_owned() } else { shown(&set.title, &settings) }
    };
    let on_paste = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            // What the browser does not take is held, and the page says so.
            let _ = store::save(PASTED, 1, &text_of(&event));
            pasted.set(text_of(&event));
        })
    };
    html! {
        <section class="marked" aria-label="Your exercises">
            <h2>{ "Your exercises" }</h2>
            <div class="controls">
                if !props.set.is_empty() { <button type="button" onclick={keep}>{ "Put this exercise on your shelf" }</button> }
                if !shelf.own.exercises().is_empty() { <button type="button" onclick={save_all}>{ "Save your shelf as a file" }</button> }
            </div>
            <div class="controls">
                <label>{ "Link of an exercise to change " }<input type="text" autocomplete="off" value={(*pasted).clone()} oninput={on_paste} /></label>
                <button type="button" onclick={paste}>{ "Put it on your shelf" }</button>
            </div>
            <OpenFile label="Exercise file, or a saved shelf" accept=".txt,text/plain" open={take.reform(|(_, text): (String, Rc<str>)| text.to_string())} {refuse} />
            <p role="status" aria-label="Your shelf">{ &shelf.said }</p>
            if let Some(why) = *full { <p class="alert" role="alert">{ why }{ " Save your shelf as a file before you leave." }</p> }
            <ul aria-label="Your shelf" class="own-exercises">{ for shelf.own.exercises().iter().enumerate().map(|(at, one)| html! {
                <li>{ title(one) }<span class="note">{ format!(" {} ", one.task.words()) }</span>
                    <button type="button" class="quiet" onclick={change(at)}>{ format!("Change a copy of {}", title(one)) }</button>
                    <button type="button" class="quiet" onclick={add(at)}>{ format!("Add {} to the set", title(one)) }</button>
                    <button type="button" class="quiet" onclick={drop(at)}>{ format!("Take {} off the shelf", title(one)) }</button>
                </li>
            }) }</ul>
            if !shelf.own.exercises().is_empty() || !shelf.set.exercises.is_empty() { <Making shelf={shelf.clone()} /> }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct MakingProps {
    shelf: UseReducerHandle<Shelf>,
}

/// The set in the making, and its link.
#[component]
fn Making(props: &MakingProps) -> Html {
    let settings = use_settings();
    let shelf = &props.shelf;
    let set = &shelf.set;
    let name = {
        let shelf = shelf.clone();
        Callback::from(move |event: InputEvent| shelf.dispatch(Act::Name(text_of(&event))))
    };
    let in_order = {
        let shelf = shelf.clone();
        Callback::from(move |on: bool| shelf.dispatch(Act::InOrder(on)))
    };
    let press = |act: fn(usize) -> Act, at: usize| {
        let shelf = shelf.clone();
        Callback::from(move |_: MouseEvent| shelf.dispatch(act(at)))
    };
    let link = (!set.exercises.is_empty()).then(|| {
        let payload = set.to_payload().map_err(|error| error.to_string())?;
        site::link_to(&payload)
    });
    let title = |one: &Exercise| {
        if one.title.is_empty() { one.task.words().to_owned() } else { shown(&one.title, &settings) }
    };
    html! {
        <section aria-label="A set of exercises">
            <h3>{ "A set: several exercises in one link, with one slip for all" }</h3>
            <p><label>{ "Title of the set " }<input type="text" maxlength={TITLE.to_string()} value={set.title.clone()} oninput={name} /></label></p>
            <ol aria-label="Exercises of the set">{ for set.exercises.iter().enumerate().map(|(at, one)| html! {
                <li>{ title(one) }{ " " }
                    if at > 0 { <button type="button" class="quiet" onclick={press(Act::Earlier, at)}>{ format!("Move number {} up", at + 1) }</button> }
                    <button type="button" class="quiet" onclick={press(Act::Leave, at)}>{ format!("Take number {} out", at + 1) }</button>
                </li>
            }) }</ol>
            <Switch label="To be done in this order" on={set.in_order} set={in_order} />
            { match link {
                None => html! { <p class="note">{ "Add exercises from your shelf, and the set’s link appears here." }</p> },
                Some(Err(why)) => html! { <p class="alert" role="alert">{ why }</p> },
                Some(Ok(link)) => html! { <Send {link} label="The set’s link" field="Link of the set" file="set.txt" /> },
            } }
        </section>
    }
}
