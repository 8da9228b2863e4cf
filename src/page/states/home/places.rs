//! How far texts were read, and where they are open, merged text by text. The order of the texts is kept: the one that was
//! read last stands at the end.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::Value;

/// An object with its parts in their order.
#[derive(Clone, Debug, Default, PartialEq)]
struct Places(Vec<(String, Value)>);

struct InOrder;

impl<'de> Visitor<'de> for InOrder {
    type Value = Places;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }
    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Places, M::Error> {
        let mut all = Vec::new();
        while let Some(entry) = map.next_entry()? {
            all.push(entry);
        }
        Ok(Places(all))
    }
}

impl<'de> Deserialize<'de> for Places {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Places, D::Error> {
        from.deserialize_map(InOrder)
    }
}

impl Serialize for Places {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut map = to.serialize_map(Some(self.0.len()))?;
        for (title, place) in &self.0 {
            map.serialize_entry(title, place)?;
        }
        map.end()
    }
}

#[derive(serde::Serialize, serde::Deserialize)]
struct Kept {
    version: u32,
    value: Places,
}

/// The pages of a text that were read to their end: what follows its number of pages, words and milliseconds.
fn pages(place: &Value) -> Option<&[Value]> {
    place.as_array()?.get(3..)
}

/// Both put together, and whether a text is told otherwise there: then what stands here holds. `None` when either cannot be
/// read, or is of another version.
pub fn both(here: &str, there: &str) -> Option<(String, bool)> {
    let read = |text: &str| serde_json::from_str::<Kept>(text).ok().filter(|kept| kept.version == 1);
    let (mut kept, there) = (read(here)?, read(there)?);
    let mut differs = false;
    // What is new goes before what stands here, so that the text that was read last here stays the last.
    let mut new = Vec::new();
    for (title, place) in there.value.0 {
        let Some((_, known)) = kept.value.0.iter_mut().find(|(known, _)| *known == title) else {
            new.push((title, place));
            continue;
        };
        if *known == place {
            continue;
        }
        match (pages(known), pages(&place)) {
            // All pages read here are among those read there: more was read there.
            (Some(of), Some(all)) if of.len() < all.len() && of.iter().all(|page| all.contains(page)) => {
                *known = place
            }
            (Some(all), Some(of)) if of.len() < all.len() && of.iter().all(|page| all.contains(page)) => {}
            _ => differs = true,
        }
    }
    new.append(&mut kept.value.0);
    kept.value.0 = new;
    Some((serde_json::to_string(&kept).ok()?, differs))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(value: &str) -> String {
        format!("{{\"version\":1,\"value\":{value}}}")
    }

    #[test]
    fn texts_of_both_are_there_and_the_last_read_here_stays_the_last() {
        let here = kept("{\"The log\":[2,0],\"A letter\":[1,4]}");
        let there = kept("{\"The menu\":[0,9],\"The log\":[2,0]}");
        let (text, differs) = both(&here, &there).unwrap();
        assert_eq!(text, kept("{\"The menu\":[0,9],\"The log\":[2,0],\"A letter\":[1,4]}"));
        assert!(!differs);
        assert_eq!(both(&text, &there), Some((text.clone(), false)));
    }

    #[test]
    fn more_pages_read_hold_and_other_pages_differ() {
        let of = |pages: &str| kept(&format!("{{\"The log\":[9,100,5000,{pages}]}}"));
        assert_eq!(both(&of("0,1"), &of("1,0,2")), Some((of("1,0,2"), false)));
        assert_eq!(both(&of("1,0,2"), &of("0,1")), Some((of("1,0,2"), false)));
        assert_eq!(both(&of("0,1"), &of("0,2")), Some((of("0,1"), true)));
        // A bookmark has a page and a line.
        let (one, other) = (kept("{\"The log\":[1,2]}"), kept("{\"The log\":[3,2]}"));
        assert_eq!(both(&one, &other), Some((one.clone(), true)));
    }

    #[test]
    fn what_cannot_be_read_is_not_put_together() {
        let good = kept("{}");
        for bad in ["", "{", "[]", "{\"version\":2,\"value\":{}}", "{\"version\":1,\"value\":3}"] {
            assert_eq!(both(&good, bad), None);
            assert_eq!(both(bad, &good), None);
        }
    }
}
