//! The road: the course as one picture, a stop for each unit, where the learner is, and how much of each is kept.

use yew::prelude::*;

use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::place::place_of;
use crate::practice::units;

/// Whose road it is.
#[derive(Properties, PartialEq)]
pub struct RoadProps {
    /// The learner.
    pub learner: LearnerHandle,
}

/// The road: `<Road learner={..} />`. To assistive technology it is one picture with its words.
#[component]
pub fn Road(props: &RoadProps) -> Html {
    let place = place_of(&props.learner);
    let all = units::units();
    let here = place.open;
    let kept: Vec<usize> = (0..all.len()).map(|unit| place.kept_of(&props.learner.memories, unit)).collect();
    let words = format!(
        "The road: unit {} of {}, {}",
        here + 1,
        all.len(),
        all.get(here).map_or("", |unit| unit.title)
    );
    let stop = |unit: usize| {
        let of = all[unit].signs.len();
        let state = match unit {
            _ if unit == here => "here",
            _ if unit > here => "ahead",
            _ if kept[unit] >= of => "kept",
            _ => "passed",
        };
        // How much of a unit is kept is seen by how far its stop is filled.
        let share = if unit < here { 100 } else { kept[unit] * 100 / of.max(1) };
        html! {
            <span class={classes!("stop", state)} style={format!("--share:{share}%")}>
                if unit == here { <span class="stop-number">{ unit + 1 }</span> }
            </span>
        }
    };
    html! {
        <div class="road" role="img" aria-label={words}>{ for (0..all.len()).map(stop) }</div>
    }
}
