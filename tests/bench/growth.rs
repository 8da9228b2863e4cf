//! What ten times the work costs.

use std::hint::black_box;

use cpu_time::ThreadTime;

/// Processor time in milliseconds, so that other work of the machine counts little.
fn time<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = ThreadTime::now();
    let out = black_box(work());
    (start.elapsed().as_secs_f64() * 1e3, out)
}

/// Milliseconds for some work, and for ten times as much. The small work is done ten times over and all that it gives is
/// kept meanwhile, so that both ask the system for as much fresh memory. The best of up to three runs of each, in turn; where
/// the first shows ten times the time already, no more are needed.
pub fn growth<S, L>(mut short: impl FnMut() -> S, mut long: impl FnMut() -> L) -> (f64, f64) {
    let mut best = (f64::INFINITY, f64::INFINITY);
    for _ in 0..3 {
        let few = time(|| -> Vec<S> { (0..10).map(|_| short()).collect() }).0;
        best.0 = best.0.min(few / 10.0);
        best.1 = best.1.min(time(&mut long).0);
        if best.1 < 10.5 * best.0 {
            break;
        }
    }
    best
}
