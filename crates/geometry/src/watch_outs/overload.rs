//! The load asked about against what the leg bears by the model.

use super::{Concern, Limits, WatchOut, Worst, found};
use crate::Survey;

pub(super) fn check(survey: &Survey, limits: &Limits) -> Option<WatchOut> {
    let (load, result) = survey.load()?;
    let times = result.bears_n / load.down_n;
    let worst = Worst::at(result.worst_mm, times);
    let verdict = format!(
        "By the model it bears {:.0} N here with a push of {:.0} N, factors {:.1} and {:.2} included, and {:.0} N was asked. \
         This compares shapes; it certifies nothing.",
        result.bears_n, load.push_n, load.safety, load.duration, load.down_n
    );
    found(Concern::Overload, worst, limits.bears_times, None, verdict)
}
