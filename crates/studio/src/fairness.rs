//! What an eye for fairness asks to see on the saw lines.

use cornerwise_geometry::{Cut, Leg};

/// How long the longest quill is when the comb is scaled by itself, as a share of the narrower face.
const LONGEST_SHARE: f64 = 0.4;
/// How much longer or shorter quills get at one click.
const STEP: f64 = 1.5;
/// The bend that a comb without any bend is scaled for, per mm.
const GENTLE_PER_MM: f64 = 1e-4;

/// What is shown; nothing at first.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Fairness {
    /// The comb: the curvature as quills square to the line.
    pub comb: bool,
    /// Length of a quill over the curvature it stands for, mm²; by itself where there is none.
    pub scale_mm2: Option<f64>,
    /// The tightest bend of each cut.
    pub tightest: bool,
    /// Crests, flats and inflections.
    pub marks: bool,
}

impl Fairness {
    /// Length of a quill over the curvature it stands for, mm². The same for both cuts, so that they compare.
    pub fn scale(&self, leg: &Leg) -> f64 {
        self.scale_mm2.unwrap_or_else(|| {
            let bends = Cut::ALL.into_iter().filter_map(|cut| leg.line(cut).tightest());
            let most = bends.map(|bend| 1.0 / bend.radius_mm).fold(GENTLE_PER_MM, f64::max);
            LONGEST_SHARE * leg.width_mm.min(leg.depth_mm) / most
        })
    }

    /// Quills longer or shorter by a step, from now on whatever the line does.
    pub fn rescale(&mut self, leg: &Leg, longer: bool) {
        let factor = if longer { STEP } else { 1.0 / STEP };
        self.scale_mm2 = Some((self.scale(leg) * factor).clamp(1.0, 1e9));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::Project;

    #[test]
    fn by_itself_the_longest_quill_takes_the_same_share_of_the_face() {
        let leg = Project::new().designs[0].leg().unwrap();
        let mut fairness = Fairness::default();
        let most = leg.first.tightest().unwrap();
        assert!((fairness.scale(&leg) / most.radius_mm - 20.0).abs() < 1e-9);
        let before = fairness.scale(&leg);
        fairness.rescale(&leg, true);
        fairness.rescale(&leg, false);
        assert!((fairness.scale(&leg) / before - 1.0).abs() < 1e-12);
    }
}
