//! Everything that a person has here, as one file.

use yew::prelude::*;

use crate::page::browser::clock::today;
use crate::page::browser::held::use_held;
use crate::page::browser::long_work;
use crate::page::browser::saving::save;
use crate::page::browser::store;
use crate::page::learner::journal::record_now;
use crate::page::states::home::file::Home;
use crate::page::states::home::keys::KNOWN;
use crate::page::states::home::{Known, Pieces};

/// What all keys of the page begin with.
const OURS: &str = "cellwright.";

/// Everything that is kept for this person, by keys without what all begin with.
pub fn pieces() -> Pieces {
    let piece = |whole: String| {
        let key = whole.strip_prefix(OURS)?.to_owned();
        Some((key, store::text(&whole)?))
    };
    store::keys().into_iter().filter_map(piece).collect()
}

/// The whole key of a piece.
pub fn whole_key(key: &str) -> String {
    format!("{OURS}{key}")
}

/// What is remembered of what each piece was.
pub fn known() -> Known {
    store::load_any(KNOWN, 1).unwrap_or_default()
}

/// Remembers it.
pub fn keep_known(known: &Known) {
    // Without it, a piece that was changed in one place only counts as changed in both: both are kept then.
    let _ = store::save_any(KNOWN, 1, known);
}

/// Hands the file to the browser to save. Gives its name.
fn take_home() -> String {
    let mut known = known();
    let name = store::person().unwrap_or_default();
    let home = Home::gather(&name, &today(), &record_now(), &pieces(), &mut known);
    keep_known(&known);
    save(&home.file_name(), &home.to_text());
    home.file_name()
}

/// Whose button it is.
#[derive(Properties, PartialEq)]
pub struct TakeHomeProps {
    /// What the button says.
    #[prop_or(AttrValue::Static("Take everything home"))]
    pub label: AttrValue,
    /// It has the focus when it appears.
    #[prop_or_default]
    pub node: NodeRef,
    /// Called when the file is saved.
    #[prop_or_default]
    pub on_taken: Callback<()>,
}

/// The button that saves the file: `<TakeHome />`.
#[component]
pub fn TakeHome(props: &TakeHomeProps) -> Html {
    let said = use_held(String::new);
    let onclick = {
        let (said, on_taken) = (said.clone(), props.on_taken.clone());
        Callback::from(move |_: MouseEvent| {
            let (said, on_taken) = (said.clone(), on_taken.clone());
            let size = pieces().values().map(String::len).sum();
            long_work::on(size, move || {
                let name = take_home();
                said.set(format!("Saved as {name}: your record, drafts, own texts, exercises, class sheet and settings. Look for it among your downloads."));
                on_taken.emit(());
            });
        })
    };
    html! {
        <>
            <p class="controls"><button type="button" ref={props.node.clone()} {onclick}>{ &props.label }</button></p>
            <p role="status" aria-label="Taken home">{ (*said).clone() }</p>
        </>
    }
}
