//! Work on all processors.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;

/// Does work number 0 to `count`, as many at a time as there are processors; what comes out is in the order of the numbers.
///
/// `progress` gets how many are done; the caller's own thread calls it.
pub(crate) fn each<T: Send>(
    count: usize,
    work: impl Fn(usize) -> T + Sync,
    progress: &dyn Fn(usize),
) -> Vec<T> {
    each_on(None, count, work, progress)
}

/// The same on so many threads; `None`: as many as there are processors.
pub(crate) fn each_on<T: Send>(
    threads: Option<NonZero<usize>>,
    count: usize,
    work: impl Fn(usize) -> T + Sync,
    progress: &dyn Fn(usize),
) -> Vec<T> {
    let threads = threads.or_else(|| thread::available_parallelism().ok()).map_or(1, NonZero::get).min(count);
    let next = AtomicUsize::new(0);
    let mut found: Vec<Option<T>> = (0..count).map(|_| None).collect();
    thread::scope(|scope| {
        let (sender, receiver) = mpsc::channel();
        for _ in 0..threads {
            let (sender, next, work) = (sender.clone(), &next, &work);
            scope.spawn(move || {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    if index >= count || sender.send((index, work(index))).is_err() {
                        break;
                    }
                }
            });
        }
        drop(sender);
        for (done, (index, outcome)) in receiver.iter().enumerate() {
            if let Some(place) = found.get_mut(index) {
                *place = Some(outcome);
            }
            progress(done + 1);
        }
    });
    found.into_iter().flatten().collect()
}
