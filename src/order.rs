//! Sorting in one piece of code for every type.
//!
//! The library's own sorts are made anew for each type, about a kilobyte gzipped each. What the page loads first sorts
//! places here, and puts the things there; it sorts short lists.

use std::cmp::Ordering;

/// Where each thing of a sorted list of `count` comes from; equal ones stay in their order.
fn order(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..count).collect();
    places.sort_by(|a, b| compare(*a, *b));
    places
}

/// Sorts a list; equal things stay in their order.
pub fn sort_by<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    if list.len() < 2 {
        return;
    }
    let mut from = order(list.len(), &|a, b| compare(&list[a], &list[b]));
    for start in 0..from.len() {
        // Around each ring of things that take each other's places.
        let mut at = start;
        loop {
            let next = std::mem::replace(&mut from[at], at);
            if next == start {
                break;
            }
            list.swap(at, next);
            at = next;
        }
    }
}

/// Sorts a list by a key of its things; equal ones stay in their order.
pub fn sort_by_key<T, K: Ord>(list: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(list, |a, b| key(a).cmp(&key(b)));
}

/// Sorts a list of things that have an order.
pub fn sort<T: Ord>(list: &mut [T]) {
    sort_by(list, T::cmp);
}

/// A number, or the nearer of two others that it has to lie between. The library's own way has words ready for bounds that
/// are the wrong way round, and what it takes to write any number in them is a fortieth of the page's first half.
pub fn within(number: f64, low: f64, high: f64) -> f64 {
    number.max(low).min(high)
}

/// A set as a sorted list: for a few hundred things that are looked up more often than they are added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set<T>(Vec<T>);

impl<T> Default for Set<T> {
    fn default() -> Self {
        Set(Vec::new())
    }
}

impl<T: Ord> Set<T> {
    fn find<Q: Ord + ?Sized>(&self, thing: &Q) -> Result<usize, usize>
    where
        T: std::borrow::Borrow<Q>,
    {
        self.0.binary_search_by(|one| one.borrow().cmp(thing))
    }

    /// Whether it is in the set.
    pub fn contains<Q: Ord + ?Sized>(&self, thing: &Q) -> bool
    where
        T: std::borrow::Borrow<Q>,
    {
        self.find(thing).is_ok()
    }

    /// Adds it; whether it was not there before.
    pub fn insert(&mut self, thing: T) -> bool {
        match self.find(&thing) {
            Ok(_) => false,
            Err(at) => {
                self.0.insert(at, thing);
                true
            }
        }
    }

    /// Takes it out.
    pub fn remove<Q: Ord + ?Sized>(&mut self, thing: &Q)
    where
        T: std::borrow::Borrow<Q>,
    {
        if let Ok(at) = self.find(thing) {
            self.0.remove(at);
        }
    }

    /// How many things are in it.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether nothing is in it.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What is in it, in order.
    pub fn iter(&self) -> std::slice::Iter<'_, T> {
        self.0.iter()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    proptest! {
        /// As the standard library sorts.
        #[test]
        fn sorted_as_the_library_sorts(mut list: Vec<(u8, u32)>) {
            let mut library = list.clone();
            library.sort_by_key(|thing| thing.0);
            super::sort_by_key(&mut list, |thing| thing.0);
            prop_assert_eq!(&list, &library);
            library.sort();
            super::sort(&mut list);
            prop_assert_eq!(list, library);
        }

        /// As the standard library's set.
        #[test]
        fn a_set_is_a_set(things: Vec<(u8, bool)>) {
            let (mut set, mut library) = (super::Set::default(), std::collections::BTreeSet::new());
            for (thing, on) in things {
                if on {
                    prop_assert_eq!(set.insert(thing), library.insert(thing));
                } else {
                    set.remove(&thing);
                    library.remove(&thing);
                }
                prop_assert_eq!(set.contains(&thing), library.contains(&thing));
            }
            prop_assert!(set.iter().eq(library.iter()) && set.len() == library.len());
        }
    }
}
