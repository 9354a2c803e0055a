//! Messages in the units of a project.

use super::Units;

impl Units {
    /// A message whose lengths are written in millimetres, `12.5 mm`, with each of them in these units. Messages of errors
    /// are written so, because an error does not know the project it is about.
    pub fn told(self, message: &str) -> String {
        if self == Units::Millimetres {
            return message.to_owned();
        }
        let mut told = String::with_capacity(message.len());
        let mut rest = message;
        while let Some((before, after)) = rest.split_once(" mm") {
            let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
            let number = before.len() - before.chars().rev().take_while(|c| is_number(*c)).count();
            let ends = !after.starts_with(|c: char| c.is_alphanumeric());
            match before[number..].parse::<f64>().ok().filter(|mm| ends && mm.is_finite()) {
                Some(mm) => {
                    told.push_str(&before[..number]);
                    told.push_str(&self.show_with_unit(mm));
                }
                None => {
                    told.push_str(before);
                    told.push_str(" mm");
                }
            }
            rest = after;
        }
        told.push_str(rest);
        told
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Finest;

    #[test]
    fn lengths_in_messages_are_told_in_the_project_s_units() {
        let inches = Units::Inches(Finest::Sixteenth);
        let message = "may lie -50.80 mm to 101.60 mm across, or 12 mm²; the length in mm, 3.5 mm.";
        assert_eq!(inches.told(message), "may lie -2\" to 4\" across, or 12 mm²; the length in mm, 1/8\".");
        assert_eq!(Units::Millimetres.told(message), message);
        assert_eq!(inches.told("point 2, 300.0 mm from the top"), "point 2, 11 13/16\" from the top");
        assert_eq!(inches.told("no length at all – ümm mm"), "no length at all – ümm mm");
    }
}
