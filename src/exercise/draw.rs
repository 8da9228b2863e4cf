//! What an exercise draws by its seed.

/// Puts a list into another order: by numbers of one width, so that what a seed draws is the same in the browser, where a
/// `usize` has 32 bits, and at a terminal.
pub fn shuffle<T>(random: &mut fastrand::Rng, list: &mut [T]) {
    for at in 1..list.len() {
        let other = u32::try_from(at).map_or(at, |at| random.u32(..=at) as usize);
        list.swap(at, other);
    }
}
