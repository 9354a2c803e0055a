use super::{FARTHEST_MM, LineToolError, within};
use crate::{Batten, Holds, Line, MIN_PIN_GAP_MM, Pin, PointId, SawLine, SawLineError};

/// The batten of a leg of `from_length_mm` for one of `to_length_mm`, bent anew along pins that are stretched along the
/// leg. With `keep_top_mm`, the batten down to there stays exactly as it is: a pin there holds place and direction.
///
/// # Errors
/// [`LineToolError`] when a number is not sound, the kept part leaves nothing to stretch, there is no room for that pin,
/// or the pins hold no batten then.
pub fn batten_stretched(
    batten: &Batten,
    from_length_mm: f64,
    to_length_mm: f64,
    keep_top_mm: Option<f64>,
) -> Result<Batten, LineToolError> {
    let from = within("the length in mm", from_length_mm, 1.0, FARTHEST_MM)?;
    let to = within("the new length in mm", to_length_mm, 1.0, FARTHEST_MM)?;
    let Some(keep) = keep_top_mm else {
        return sound(batten.stretched(0.0, to / from, |_| true));
    };
    if from == to {
        return sound(batten.clone());
    }
    let keep = within("the part kept at the top, in mm,", keep, MIN_PIN_GAP_MM, from.min(to) - MIN_PIN_GAP_MM)?;
    let line = SawLine::from_points(&batten.solve().map_err(SawLineError::from)?, from)?;
    let here = line.at(keep);
    let mut kept = batten.clone();
    let holds = Holds::Direction { slope: here.slope };
    match kept.pins.iter_mut().find(|pin| (pin.from_top.mm() - keep).abs() < MIN_PIN_GAP_MM) {
        Some(pin) if (pin.from_top.mm() - keep).abs() < 1e-9 => pin.holds = holds,
        Some(pin) => return Err(LineToolError::NoRoom { s_mm: keep, near_mm: pin.from_top.mm() }),
        None => {
            let place = kept.pins.partition_point(|pin| pin.from_top.mm() < keep);
            let most = kept.pins.iter().map(|pin| pin.id.0).max().unwrap_or(0);
            let pin =
                Pin { id: PointId(most.saturating_add(1)), from_top: keep.into(), offset: here.offset.into(), holds };
            kept.pins.insert(place, pin);
        }
    }
    sound(kept.stretched(keep, (to - keep) / (from - keep), |at| at > keep))
}

fn sound(batten: Batten) -> Result<Batten, LineToolError> {
    Line::Batten(batten.clone()).solve(0.0, 0.0)?;
    Ok(batten)
}
