//! What of a glue-up lies nowhere in the blank, in words.

/// "Columns 2 to 4 lie outside the blank", of places from 0; `what` is one of them, perhaps with more behind the number.
pub(super) fn lie_outside(what: &str, places: &[usize]) -> String {
    let capital = what.get(..1).unwrap_or_default().to_uppercase() + what.get(1..).unwrap_or_default();
    match places {
        [one] => format!("{capital} {} lies outside the blank", one + 1),
        many => format!("{capital}s {} lie outside the blank", listed(many)),
    }
}

/// "1, 3 to 5 and 8", of places from 0 in their order.
fn listed(places: &[usize]) -> String {
    let mut runs: Vec<[usize; 2]> = Vec::new();
    for place in places {
        match runs.last_mut() {
            Some([_, last]) if *last + 1 == *place => *last = *place,
            _ => runs.push([*place; 2]),
        }
    }
    let words = |[first, last]: [usize; 2]| match last - first {
        0 => (first + 1).to_string(),
        1 => format!("{} and {}", first + 1, last + 1),
        _ => format!("{} to {}", first + 1, last + 1),
    };
    runs.into_iter().map(words).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_of_numbers_are_told_by_their_ends() {
        assert_eq!(lie_outside("layer", &[1]), "Layer 2 lies outside the blank");
        assert_eq!(lie_outside("column", &[1, 2, 3]), "Columns 2 to 4 lie outside the blank");
        assert_eq!(lie_outside("column", &[0, 2, 3, 5, 6, 7]), "Columns 1, 3 and 4, 6 to 8 lie outside the blank");
    }
}
