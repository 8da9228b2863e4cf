//! What is chosen of a sheet of the learner's own: the text, how many mistakes, of what kinds, how shown.

use yew::prelude::*;

use crate::exercise::Plants;
use crate::exercise::proofread::Look;
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::page::learner::journal::use_learner;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::kept_own::keep;
use crate::page::rooms::proofread::notice::NOTICE;
use crate::page::rooms::transcribe::own_slips::own_causes;
use crate::page::widgets::passage_choice::PassageChoice;
use crate::page::widgets::switch::{Switch, edition_switch};

/// How many mistakes: words for about so many in a thousand cells.
const RATES: [(u16, &str); 4] = [(8, "few"), (20, "some"), (45, "many"), (90, "very many")];

/// What is chosen now.
#[derive(Properties, PartialEq)]
pub struct OwnChoiceProps {
    /// The text.
    pub text: AttrValue,
    /// What is planted in it, and how it looks.
    pub plants: Plants,
    /// Lays another sheet.
    pub lay: Callback<(AttrValue, Plants)>,
    /// Shows the same sheet otherwise.
    pub look: Callback<Plants>,
}

/// The choice.
#[component]
pub fn OwnChoice(props: &OwnChoiceProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let OwnChoiceProps { text, plants, lay, look: show } = props;
    let choose = {
        let (lay, plants) = (lay.clone(), plants.clone());
        Callback::from(move |chosen: Option<(AttrValue, AttrValue)>| {
            let text = chosen.map_or(AttrValue::Static(NOTICE), |(_, chosen)| chosen);
            lay.emit((text, plants.clone()));
        })
    };
    let own_text = {
        let (lay, plants) = (lay.clone(), plants.clone());
        Callback::from(move |event: Event| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            if !area.value().trim().is_empty() {
                // At once: a page that is being closed draws nothing any more.
                keep(&area.value(), &plants);
                lay.emit((area.value().into(), plants.clone()));
            }
        })
    };
    let rate = {
        let (lay, text, plants) = (lay.clone(), text.clone(), plants.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let rate = select.value().parse().unwrap_or(20);
            lay.emit((text.clone(), Plants { rate, ..plants.clone() }));
        })
    };
    let look = {
        let (show, plants) = (show.clone(), plants.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let look = Look::ALL.into_iter().find(|look| look.name() == select.value()).unwrap_or_default();
            show.emit(Plants { look, ..plants.clone() });
        })
    };
    let beside = {
        let (show, plants) = (show.clone(), plants.clone());
        Callback::from(move |beside: bool| show.emit(Plants { beside, ..plants.clone() }))
    };
    let changed = |with: fn(&mut Plants, bool, Vec<String>)| {
        let (lay, text, plants, learner) = (lay.clone(), text.clone(), plants.clone(), learner.clone());
        Callback::from(move |on: bool| {
            let mut next = plants.clone();
            with(&mut next, on, own_causes(&learner));
            lay.emit((text.clone(), next));
        })
    };
    let layout = changed(|plants, on, _| plants.layout = on);
    let own_first = changed(|plants, on, causes| plants.own = if on { causes } else { Vec::new() });
    let nothing_known = plants.own.is_empty() && own_causes(&learner).is_empty();
    let kind = |kind: Kind| {
        let (lay, text, plants) = (lay.clone(), text.clone(), plants.clone());
        Callback::from(move |on: bool| {
            let mut kinds = plants.kinds.clone();
            kinds.retain(|name| name != kind.name());
            if on {
                kinds.push(kind.name().to_owned());
            }
            lay.emit((text.clone(), Plants { kinds, ..plants.clone() }));
        })
    };
    html! {
            <details class="more">
                <summary>{ "Text and difficulty" }</summary>
                <div class="set">
                    <PassageChoice label="Text" first="Lost and found" text={text.clone()} contracted={settings.contracted} on_choose={choose} />
                    <label>{ "Mistakes" }<br />
                        <select onchange={rate}>
                            { for RATES.iter().map(|(rate, words)| html! { <option value={rate.to_string()} selected={*rate == plants.rate}>{ *words }</option> }) }
                        </select>
                    </label>
                    <label>{ "Look" }<br />
                        <select onchange={look}>
                            { for Look::ALL.iter().map(|look| html! { <option value={look.name()} selected={*look == plants.look}>{ look.name() }</option> }) }
                        </select>
                    </label>
                    <Switch label="Print beside it" on={plants.beside} set={beside} />
                    <Switch label="Faults of layout too" on={plants.layout} set={layout} />
                    if nothing_known {
                        <p class="note">{ "Your most frequent slips are planted first, as soon as some are known from marked work or from “My own slips” in Transcribe." }</p>
                    } else {
                        <Switch label="My most frequent slips first" on={!plants.own.is_empty()} set={own_first} />
                    }
                    { edition_switch(&settings) }
                </div>
                <fieldset>
                    <legend>{ "Kinds of mistakes (none chosen: all of them)" }</legend>
                    <div class="set">
                        { for KINDS.iter().map(|one| html! {
                            <Switch label={one.words()} on={plants.kinds.iter().any(|name| name == one.name())} set={kind(*one)} />
                        }) }
                    </div>
                </fieldset>
                <label>{ "Or a text of your own" }<textarea rows="4" onchange={own_text} /></label>
            </details>
    }
}
