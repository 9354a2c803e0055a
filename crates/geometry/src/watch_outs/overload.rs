//! The load asked about against what the leg bears by the model.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::Survey;

pub(super) fn check(survey: &Survey, limits: &Limits) -> Option<WatchOut> {
    let (load, result) = survey.load()?;
    let times = result.bears_n / load.down_n;
    let worst = Worst::at(result.worst_mm, times);
    let factors = format!("factors {:.1} and {:.2} included", load.safety, load.duration);
    let bears = if result.bears_n > 0.0 {
        format!("By the model it bears {:.0} N here with a push of {:.0} N, {factors}", result.bears_n, load.push_n)
    } else {
        format!("By the model the push of {:.0} N alone is more than it bears here, {factors}", load.push_n)
    };
    let verdict = format!("{bears}, and {:.0} N was asked. This compares shapes; it certifies nothing.", load.down_n);
    found(Concern::Overload, worst, limits.bears_times, None, verdict)
}
