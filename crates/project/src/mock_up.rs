//! A design in proportion for a smaller blank, to be tried in scrap.

use crate::{Design, EditError, MAX_NAME_CHARS, MOCK_UP_FACTOR};

impl Design {
    /// The design `factor` times as large: its blank with its spare length, its lines, and what is laid out in its wood.
    /// Saw and blade stay as they are, so what they allow is judged at the new size. The caller gives it an id and a
    /// letter of its own.
    ///
    /// # Errors
    /// [`EditError`] when the factor is not one that a mock-up is made with.
    pub(crate) fn mock_up(&self, factor: f64) -> Result<Design, EditError> {
        let [least, most] = MOCK_UP_FACTOR;
        if !(least..=most).contains(&factor) {
            return Err(EditError::Factor { factor, least, most });
        }
        Ok(Design {
            name: mock_up_name(&self.name, factor),
            blank: self.blank.scaled(factor),
            first: self.first.scaled(factor),
            second: self.second.scaled(factor),
            wood: self.wood.scaled(factor),
            traces: self.traces.iter().map(|trace| trace.in_proportion(factor)).collect(),
            knots: self.knots.iter().map(|knot| knot.scaled(factor)).collect(),
            // Neither was said about the small one.
            load: None,
            accepted: Vec::new(),
            ..self.clone()
        })
    }
}

/// "Bench leg, mock-up 1:2", cut short where that would be too long for a name.
fn mock_up_name(name: &str, factor: f64) -> String {
    let added = format!(", mock-up {}", ratio(factor));
    let kept: String = name.chars().take(MAX_NAME_CHARS.saturating_sub(added.chars().count())).collect();
    kept + &added
}

/// A factor as a drawing's scale: 1:2, 1:2.5, 2:1.
fn ratio(factor: f64) -> String {
    let short = |number: f64| {
        let text = format!("{number:.2}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    if factor <= 1.0 { format!("1:{}", short(1.0 / factor)) } else { format!("{}:1", short(factor)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_is_written_as_on_a_drawing() {
        assert_eq!([0.5, 1.0 / 3.0, 0.4, 2.0, 0.7].map(ratio), ["1:2", "1:3", "1:2.5", "2:1", "1:1.43"]);
        let long = mock_up_name(&"é".repeat(MAX_NAME_CHARS), 0.5);
        assert_eq!(long.chars().count(), MAX_NAME_CHARS);
        assert!(long.ends_with("é, mock-up 1:2"));
    }
}
