//! What ten times the work costs.

use std::hint::black_box;
use std::process::Command;

use cpu_time::ThreadTime;

/// Processor time in milliseconds, so that other work of the machine counts little.
fn time<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = ThreadTime::now();
    let out = black_box(work());
    (start.elapsed().as_secs_f64() * 1e3, out)
}

/// Does the rest of the program where the allocator keeps what is given back to it, so that no run has to wait for fresh
/// memory but the first: what the system takes to give out its pages is no work of the engine's, and small runs, for which
/// the allocator would keep them anyway, go without it. (The names are those of the GNU C library; another one takes no
/// notice.)
#[allow(dead_code)]
pub fn with_warm_memory(arguments: &[String]) {
    let program = std::env::current_exe().expect("this program");
    let mut again = Command::new(program);
    again.args(arguments).envs([
        (WARM, "1"),
        ("MALLOC_MMAP_MAX_", "0"),
        ("MALLOC_TRIM_THRESHOLD_", "100000000000"),
    ]);
    assert!(again.status().expect("this program runs again").success());
}

/// Whether the allocator keeps what is given back to it.
#[allow(dead_code)]
pub fn is_warm() -> bool {
    std::env::var_os(WARM).is_some()
}

const WARM: &str = "BENCH_WARM_MEMORY";

/// Milliseconds for some work, and for ten times as much, after the large work was done once to warm the memory for both.
/// The small work is done ten times over and all that it gives is kept meanwhile, so that both ask for as much memory. The best of up to three runs of each, in turn; where
/// the first shows ten times the time already, no more are needed.
pub fn growth<S, L>(mut short: impl FnMut() -> S, mut long: impl FnMut() -> L) -> (f64, f64) {
    black_box(long());
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
