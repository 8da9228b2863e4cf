//! A sitting as text: the session, and what stands of it on the screen.

use super::{Scene, Sitting};
use crate::practice::due::Memories;
use crate::practice::record::Record;
use crate::practice::session::{Rules, Session};
use crate::practice::supply::Supply;

impl Sitting {
    /// The sitting as text; `None` when it is over.
    pub fn to_text(&self) -> Option<String> {
        if self.scene == Scene::Over {
            return None;
        }
        let yes_no = |flag: bool| if flag { "yes" } else { "no" };
        let sights: Vec<String> = self.sights.iter().map(u64::to_string).collect();
        Some(format!(
            "{}\n{}\n{}\n{}",
            yes_no(self.first),
            yes_no(self.keys_tried),
            sights.join(" "),
            self.session.to_text()
        ))
    }

    /// The sitting that a text holds, at the same item; an item that was answered already is followed by the next. `None`
    /// when it is none, or is over.
    pub fn from_text(
        text: &str,
        record: &Record,
        memories: &Memories,
        rules: Rules,
        supply: Option<&Supply>,
        now: u64,
    ) -> Option<Sitting> {
        let mut parts = text.splitn(4, '\n');
        let first = parts.next()? == "yes";
        let keys_tried = parts.next()? == "yes";
        let sights: Vec<u64> = parts.next()?.split(' ').filter_map(|ms| ms.parse().ok()).collect();
        let session = Session::from_text(parts.next()?, record, memories, rules, now)?;
        // As before the keys were tried: the item that waits is taken up.
        let mut sitting = Sitting::of(session, first, keys_tried, Scene::Keys, sights);
        if sitting.session.item().is_none() {
            sitting.scene = Scene::Over;
        }
        sitting.next(now, supply);
        (sitting.scene != Scene::Over).then_some(sitting)
    }
}
