//! `<PassageChoice label=.. first=.. on_choose=.. />`: one of the texts of the course, in a list.

use yew::prelude::*;

use crate::page::browser::data::{OnTheWay, Stock, use_supply};

/// Which texts, and what becomes of the choice.
#[derive(Properties, PartialEq)]
pub struct PassageChoiceProps {
    /// The list's name.
    pub label: AttrValue,
    /// What stands first in the list and is none of the texts.
    pub first: AttrValue,
    /// The text that is chosen now, if it is one of them.
    #[prop_or_default]
    pub text: AttrValue,
    /// Contracted texts, or uncontracted ones.
    pub contracted: bool,
    /// Called with title and text; with nothing for what stands first.
    pub on_choose: Callback<Option<(AttrValue, AttrValue)>>,
}

/// A list of texts.
#[component]
pub fn PassageChoice(props: &PassageChoiceProps) -> Html {
    let supply = use_supply();
    let onchange = {
        let (on_choose, supply) = (props.on_choose.clone(), supply.clone());
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = select.value().parse::<usize>().ok();
            let passage = supply.here().and_then(|supply| supply.passages.get(chosen?));
            on_choose.emit(passage.map(|one| (one.title.clone().into(), one.text.clone().into())));
        })
    };
    html! {
        <div>
            <label>{ &props.label }<br />
                <select {onchange}>
                    <option value="">{ &props.first }</option>
                    if let Stock::Here(supply) = &supply {
                        { for supply.passages.iter().enumerate().filter(|(_, one)| one.contracted == props.contracted).map(|(n, passage)| html! {
                            <option value={n.to_string()} selected={*passage.text == *props.text}>{ &passage.title }</option>
                        }) }
                    }
                </select>
            </label>
            <OnTheWay />
        </div>
    }
}
