//! An exercise on a book of the shelf: its link names the book, whose text is fetched when the exercise is opened.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::Exercise;
use crate::page::browser::data;
use crate::page::browser::held::use_held;
use crate::practice::shelf;

/// The print of a book of the shelf, by the name of its file without the ending; `None` when it can't be had.
pub async fn print_of(book: &str) -> Option<String> {
    let file = data::file(&format!("shelf/{book}.txt")).await?;
    shelf::parse(&file).ok().map(|book| book.print)
}

/// An exercise, and what is shown of it.
#[derive(Properties, PartialEq)]
pub struct WithTextProps {
    /// The exercise, maybe without its text.
    pub exercise: Rc<Exercise>,
    /// What is made of it when the text is here.
    pub show: Callback<Rc<Exercise>, Html>,
}

/// An exercise with its text: `<WithText exercise=.. show=.. />`.
#[component]
pub fn WithText(props: &WithTextProps) -> Html {
    let whole = use_held(|| None::<Rc<Exercise>>);
    let turn = use_held(u32::default);
    let asks = !props.exercise.book.is_empty() && props.exercise.text.is_empty();
    {
        let whole = whole.clone();
        use_effect_with((props.exercise.clone(), *turn), move |(exercise, _)| {
            let exercise = exercise.clone();
            if asks {
                wasm_bindgen_futures::spawn_local(async move {
                    if let Some(text) = print_of(&exercise.book).await {
                        whole.set(Some(Rc::new(Exercise { text, ..(*exercise).clone() })));
                    }
                });
            }
        });
    }
    if !asks {
        return props.show.emit(props.exercise.clone());
    }
    let again = Callback::from(move |_: MouseEvent| turn.set(*turn + 1));
    match &*whole {
        Some(whole) => props.show.emit(whole.clone()),
        None => html! {
            <>
                <p role="status" aria-label="Loading">{ "The text of this exercise is on its way from the shelf. If the network does not bring it, what you have written stays, and you can ask again." }</p>
                <button type="button" class="quiet" onclick={again}>{ "Ask for the text again" }</button>
            </>
        },
    }
}
