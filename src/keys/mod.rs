//! Six keys to cells: chords, roll-over, one-hand entry, slate order.
