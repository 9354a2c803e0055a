//! Asks whoever prints the file to leave its size alone.
//!
//! The PDF writer has no call for the viewer preference PrintScaling (ISO 32000-1, table 150), so the finished file is
//! given an incremental update: the catalog stated again with the preference in it, and a second cross-reference section
//! that points to it. Some print queues ignore the entry, which is why every page has check rules.

/// The same PDF with `/ViewerPreferences << /PrintScaling /None >>` in its catalog. `None` when `pdf` is not laid out as
/// the writer lays it out: a cross-reference table, and a catalog in the open.
pub fn without_scaling(mut pdf: Vec<u8>) -> Option<Vec<u8>> {
    let startxref_at = find_last(&pdf, b"startxref")?;
    let previous = number_after(&pdf, startxref_at + b"startxref".len())?;
    let trailer_at = find_last(&pdf, b"trailer")?;
    let trailer = pdf.get(trailer_at..startxref_at)?;
    let dictionary = trailer.get(find(trailer, b"<<")? + 2..find_last(trailer, b">>")?)?.to_vec();
    let root = number_after(&dictionary, find(&dictionary, b"/Root")? + b"/Root".len())?;

    let object = format!("\n{root} 0 obj");
    let object_at = find_last(&pdf, object.as_bytes())?;
    let length = find(pdf.get(object_at..)?, b"endobj")?;
    let mut catalog = pdf.get(object_at + object.len()..object_at + length)?.to_vec();
    match find(&catalog, b"/ViewerPreferences") {
        // The writer's own preferences (to show the title) stay.
        Some(at) => {
            let open = at + find(catalog.get(at..)?, b"<<")? + 2;
            catalog.splice(open..open, *b" /PrintScaling /None");
        }
        None => {
            let close = find_last(&catalog, b">>")?;
            catalog.splice(close..close, *b"  /ViewerPreferences << /PrintScaling /None >>\n");
        }
    }

    pdf.push(b'\n');
    let catalog_at = pdf.len();
    pdf.extend_from_slice(object.trim_start().as_bytes());
    pdf.extend_from_slice(&catalog);
    pdf.extend_from_slice(b"endobj\n");
    let xref_at = pdf.len();
    pdf.extend_from_slice(format!("xref\n{root} 1\n{catalog_at:010} 00000 n \ntrailer\n<<").as_bytes());
    pdf.extend_from_slice(&dictionary);
    pdf.extend_from_slice(format!("  /Prev {previous}\n>>\nstartxref\n{xref_at}\n%%EOF\n").as_bytes());
    Some(pdf)
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}

fn find_last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|window| window == what)
}

fn number_after(bytes: &[u8], at: usize) -> Option<usize> {
    let digits: Vec<u8> =
        bytes.get(at..)?.iter().copied().skip_while(u8::is_ascii_whitespace).take_while(u8::is_ascii_digit).collect();
    std::str::from_utf8(&digits).ok()?.parse().ok()
}
