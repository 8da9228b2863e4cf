//! The chart of signs: what is looked for, and meanings of one cell together.

use super::{drill, names, units};
use crate::cell::Cell;
use crate::ueb::register::{self, Class, Sign};

/// The cells of dot numbers: "4-6", "dots 4-6", "456 1"; `None` for anything else.
fn of_numbers(text: &str) -> Option<Vec<Cell>> {
    let numbers = text.strip_prefix("dots").or_else(|| text.strip_prefix("dot")).unwrap_or(text).trim();
    let parts = numbers.split([' ', ',']).filter(|part| !part.is_empty());
    let cells: Option<Vec<Cell>> = parts.map(Cell::from_dot_numbers).collect();
    cells.filter(|cells| !cells.is_empty() && cells.iter().all(|cell| !cell.is_blank()))
}

/// How well a sign fits what is looked for, the best 0; `None` where it does not.
fn fits(sign: &Sign, search: &str, cells: Option<&[Cell]>) -> Option<u8> {
    if let Some(cells) = cells {
        if sign.cells == cells {
            return Some(0);
        }
        if sign.cells.starts_with(cells) {
            return Some(5);
        }
    }
    let print = sign.print.to_lowercase();
    let name = sign.name.to_lowercase();
    let long = search.chars().count() > 1;
    let words = |text: &str| text.split([' ', ',', '(', ')']).any(|word| word.starts_with(search));
    match () {
        () if print == search => Some(0),
        () if name == search || names::is_name(sign.key, search) || drill::calls(sign, search) => Some(1),
        () if long && print.starts_with(search) => Some(2),
        () if long && words(&name) => Some(3),
        () if long && (print.contains(search) || name.contains(search)) => Some(4),
        () => None,
    }
}

/// The signs that are looked for by print, name or dot numbers: the sign itself first, then what begins with it, then what has
/// it in its name. Those of the course come before the others.
pub fn find(search: &str) -> Vec<&'static Sign> {
    let search = search.trim().to_lowercase();
    let cells = of_numbers(&search);
    let mut found: Vec<(u8, bool, &'static Sign)> = register::signs()
        .iter()
        .filter(|sign| sign.class != Class::Space)
        .filter_map(|sign| {
            let rank = fits(sign, &search, cells.as_deref())?;
            let other = units::unit_of(sign.key).is_none() || sign.class == Class::Modifier;
            Some((rank, other, sign))
        })
        .collect();
    found.sort_by_key(|(rank, other, _)| (*rank, *other));
    found.into_iter().map(|(_, _, sign)| sign).collect()
}

/// The cells that are looked for by dot numbers, where no sign is written with them alone: a prefix, or a shape that only stands
/// in longer signs.
pub fn no_sign_alone(search: &str) -> Option<Vec<Cell>> {
    let cells = of_numbers(&search.trim().to_lowercase())?;
    (!register::signs().iter().any(|sign| sign.cells == cells)).then_some(cells)
}

/// Signs as they stand in a chart: those of the same cells together, at the place of the first of them.
pub fn by_cells(signs: &[&'static Sign]) -> Vec<Vec<&'static Sign>> {
    let mut tiles: Vec<Vec<&'static Sign>> = Vec::new();
    let mut places: std::collections::HashMap<&[Cell], usize> = std::collections::HashMap::new();
    for sign in signs {
        let place = *places.entry(&sign.cells).or_insert(tiles.len());
        if place == tiles.len() {
            tiles.push(Vec::new());
        }
        tiles[place].push(sign);
    }
    tiles
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(search: &str) -> Vec<&'static str> {
        find(search).into_iter().map(|sign| sign.key).collect()
    }

    #[test]
    fn a_prefix_is_no_sign_alone() {
        // Dots 4-6 only begin signs: final-letter groupsigns and typeform indicators (10.8, 9.1); dots 3-4 are st.
        assert_eq!(no_sign_alone("dots 4-6"), crate::cell::from_ascii("."));
        assert_eq!(no_sign_alone("4-6"), crate::cell::from_ascii("."));
        assert_eq!(no_sign_alone("3-4"), None);
        assert_eq!(no_sign_alone("sand"), None);
        assert!(
            find("4-6")
                .iter()
                .take(10)
                .all(|sign| sign.cells.starts_with(&crate::cell::from_ascii(".").unwrap()))
        );
    }

    #[test]
    fn the_sign_itself_comes_first() {
        for (search, key) in [
            ("th", "groupsign th"),
            ("er", "groupsign er"),
            ("TH", "groupsign th"),
            ("in", "groupsign in"),
            ("ever", "contraction ever"),
            ("st", "groupsign st"),
            ("and", "contraction and"),
            ("about", "shortform about"),
            ("?", "question mark"),
            ("hash", "number sign"),
            ("capital", "capital letter indicator"),
            ("slash", "solidus"),
            ("e", "letter e"),
        ] {
            let found = keys(search);
            let same = |at: &&&str| register::by_key(at).unwrap().print.eq_ignore_ascii_case(search);
            let first = found.first().is_some_and(|first| *first == key)
                // In and its groupsign are of one print: the one of the two that the chart has first.
                || (found.iter().take(3).any(|one| *one == key) && found.first().as_ref().is_some_and(same));
            assert!(first, "{search}: {:?}", &found[..found.len().min(6)]);
        }
        // Then what begins with it, before what only has it somewhere.
        let found = find("th");
        let begins = found.iter().rposition(|sign| sign.print.starts_with("th")).unwrap();
        let has =
            found.iter().position(|sign| !sign.print.starts_with("th") && sign.name.contains("oth")).unwrap();
        assert!(begins > 3 && found.iter().take(has).any(|sign| sign.print == "this"), "{:?}", keys("th"));
    }

    #[test]
    fn dot_numbers_give_their_cell_then_what_begins_with_it() {
        for search in ["dots 4-6", "4-6", "46", "dots 46", " 4-6 ", "Dots 4-6"] {
            let found = find(search);
            let cells = crate::cell::from_ascii(".").unwrap();
            let exact = found.iter().take_while(|sign| sign.cells == cells).count();
            let any = register::by_cells(&cells).count();
            assert_eq!(exact, any, "{search}");
            assert!(found[exact..].iter().all(|sign| sign.cells[0] == cells[0]), "{search}");
            assert!(found.len() > exact + 4);
        }
        assert_eq!(find("dot 1").first().unwrap().cells, crate::cell::from_ascii("a").unwrap());
        assert_eq!(keys("3-4")[0], keys("34")[0]);
        assert!(keys("5 1-3-4").contains(&"contraction mother"));
        assert!(find("zzz").is_empty());
    }

    #[test]
    fn meanings_of_one_cell_stand_together() {
        let all: Vec<&'static Sign> = units::units()
            .iter()
            .flat_map(|unit| &unit.signs)
            .filter_map(|key| register::by_key(key))
            .collect();
        let tiles = by_cells(&all);
        assert_eq!(tiles.iter().map(Vec::len).sum::<usize>(), all.len());
        let mut seen = std::collections::HashSet::new();
        for tile in &tiles {
            assert!(tile.iter().all(|sign| sign.cells == tile[0].cells));
            assert!(seen.insert(&tile[0].cells));
        }
        // Dots 2-3-6: his, the question mark and an opening quotation mark.
        let tile = tiles.iter().find(|tile| tile[0].key == "question mark").unwrap();
        assert!(tile.iter().any(|sign| sign.key == "wordsign his"), "{tile:?}");
    }
}
