//! What the learner's course has of the rules of layout, and which practice its pages follow.

use serde::{Deserialize, Serialize};

use crate::manuscript::Profile;
use crate::manuscript::rules::{self, RULES, Rule};

/// The rules that the course does not have, and its profile. What is kept of it is this.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct CourseRules {
    /// The names of the rules that are switched off, in the order of the rules.
    off: Vec<String>,
    /// Pages follow the plain profile.
    plain: bool,
}

/// What the learner does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// Switches a rule, by its number, on or off.
    Switch(u8, bool),
    /// Switches all rules on.
    AllOn,
    /// Takes the plain profile, or the full one.
    Plain(bool),
}

impl CourseRules {
    /// What it is after an action.
    #[must_use]
    pub fn after(&self, action: Action) -> CourseRules {
        let mut next = self.clone();
        match action {
            Action::Switch(number, on) => {
                let is_off = |rule: &Rule| if rule.number == number { !on } else { !self.has(rule) };
                next.off = RULES.iter().filter(|rule| is_off(rule)).map(|rule| rule.key.to_owned()).collect();
            }
            Action::AllOn => next.off.clear(),
            Action::Plain(plain) => next.plain = plain,
        }
        next
    }

    /// Whether the course has a rule.
    pub fn has(&self, rule: &Rule) -> bool {
        !self.off.iter().any(|name| rules::by_name(name) == Some(rule))
    }

    /// The rules that are switched off, as the check is told of them.
    pub fn off(&self) -> &[String] {
        &self.off
    }

    /// The profile of its pages.
    pub fn profile(&self) -> Profile {
        if self.plain { Profile::Plain } else { Profile::Full }
    }

    /// How many rules there are and how many are switched off, in words.
    pub fn words(&self) -> String {
        let off = RULES.iter().filter(|rule| !self.has(rule)).count();
        match off {
            0 => format!("all {} rules", RULES.len()),
            1 => format!("{} rules, 1 switched off", RULES.len()),
            _ => format!("{} rules, {off} switched off", RULES.len()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manuscript::Sheet;
    use crate::manuscript::check::{Asked, check};
    use crate::manuscript::file::BrailleFile;

    #[test]
    fn a_rule_that_is_switched_off_is_not_looked_at_and_stays_off() {
        let rules = CourseRules::default();
        assert_eq!(rules.words(), "all 34 rules");
        let file = BrailleFile::from_text("  a \r\n");
        let told = |rules: &CourseRules| -> Vec<u8> {
            let sheet = Sheet { profile: rules.profile(), ..Sheet::default() };
            let items = check(&file, &Asked { off: rules.off(), sheet, ..Asked::default() });
            items.iter().map(|item| item.number).collect()
        };
        assert!(told(&rules).contains(&4));
        let rules = rules.after(Action::Switch(4, false)).after(Action::Switch(2, false));
        assert_eq!(rules.off(), ["line-length", "trailing-blanks"]);
        assert!(!told(&rules).contains(&4) && !told(&rules).contains(&2));
        // As it comes back from where it is kept.
        let kept = serde_json::to_string(&rules).unwrap();
        let rules: CourseRules = serde_json::from_str(&kept).unwrap();
        assert_eq!(rules.words(), "34 rules, 2 switched off");
        let rules = rules.after(Action::Switch(4, true)).after(Action::Plain(true));
        assert_eq!((rules.off(), rules.profile()), (&["line-length".to_owned()][..], Profile::Plain));
        assert_eq!(rules.after(Action::AllOn).words(), "all 34 rules");
    }
}
