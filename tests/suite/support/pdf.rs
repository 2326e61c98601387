//! PDFs made by hand: pages of lines set in Helvetica, or pages that hold no text.

/// Points of a page's width and height.
const PAGE: (u32, u32) = (400, 600);

/// What one page holds, as a content stream.
pub(crate) fn text_page(lines: &[&str]) -> String {
    let set: Vec<String> = lines.iter().map(|line| format!("({line}) Tj T*")).collect();
    format!("BT /F1 10 Tf 14 TL 50 550 Td {} ET", set.join("\n"))
}

/// A page with a grey square and no letter, as a scan has only pictures.
pub(crate) fn picture_page() -> String {
    "0.5 g 50 50 300 500 re f".to_owned()
}

/// Returns a PDF with these pages.
pub(crate) fn pdf(pages: &[String]) -> Vec<u8> {
    let kids: Vec<String> = (0..pages.len()).map(|at| format!("{} 0 R", 4 + 2 * at)).collect();
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        format!("<< /Type /Pages /Kids [{}] /Count {} >>", kids.join(" "), pages.len()),
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>".to_owned(),
    ];
    for (at, content) in pages.iter().enumerate() {
        objects.push(format!(
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {} {}] /Contents {} 0 R /Resources << /Font << /F1 3 0 R >> >> >>",
            PAGE.0,
            PAGE.1,
            5 + 2 * at
        ));
        objects.push(format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()));
    }
    file(&objects)
}

/// Returns a file of these objects, the first one being the catalogue.
fn file(objects: &[String]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.4\n".to_vec();
    let mut places = Vec::new();
    for (at, object) in objects.iter().enumerate() {
        places.push(format!("{:010} 00000 n \n", bytes.len()));
        bytes.extend(format!("{} 0 obj\n{object}\nendobj\n", at + 1).bytes());
    }
    let (table, size) = (bytes.len(), objects.len() + 1);
    let places = places.concat();
    bytes.extend(format!("xref\n0 {size}\n0000000000 65535 f \n{places}").bytes());
    bytes.extend(format!("trailer\n<< /Size {size} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n").bytes());
    bytes
}
