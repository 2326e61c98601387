//! The folios that a file says its pages bear (page labels), for pages that show none.

use lopdf::{Dictionary, Document, Object};

use crate::pdf::content::text_string;
use crate::pdf::objects::{array, dictionary, get, name, number, resolve};

/// Nodes of the tree of labels within each other at most.
const MAX_DEPTH: usize = 16;
/// Letters of a label at most, against files that make it grow without end.
const MAX_LETTERS: usize = 16;
/// Ranges of pages read at most.
const MAX_RANGES: usize = 1 << 16;

/// How the pages from one on are numbered.
struct Range {
    first: usize,
    style: Option<char>,
    prefix: String,
    start: usize,
}

/// Returns the label of each of so many pages; none where the file gives none.
pub(super) fn read(file: &Document, pages: usize) -> Vec<Option<String>> {
    let mut ranges = Vec::new();
    if let Some(tree) = file.catalog().ok().and_then(|catalog| dictionary(file, catalog, b"PageLabels")) {
        gather(file, tree, MAX_DEPTH, &mut ranges);
    }
    ranges.sort_by_key(|range| range.first);
    (0..pages)
        .map(|page| {
            let range = &ranges[..ranges.partition_point(|range| range.first <= page)];
            range.last().map(|range| range.label(page)).filter(|label| !label.is_empty())
        })
        .collect()
}

fn gather(file: &Document, node: &Dictionary, depth: usize, ranges: &mut Vec<Range>) {
    for pair in array(file, node, b"Nums").unwrap_or_default().chunks_exact(2) {
        let (Ok(first), Object::Dictionary(said)) =
            (resolve(file, &pair[0]).as_i64(), resolve(file, &pair[1]))
        else {
            continue;
        };
        let prefix = match get(file, said, b"P") {
            Some(Object::String(bytes, _)) => text_string(bytes),
            _ => String::new(),
        };
        let style = name(file, said, b"S").and_then(|style| style.chars().next());
        let start = number(file, said, b"St").unwrap_or(1.0).max(1.0) as usize;
        if ranges.len() < MAX_RANGES
            && let Ok(first) = usize::try_from(first)
        {
            ranges.push(Range { first, style, prefix, start });
        }
    }
    for kid in array(file, node, b"Kids").unwrap_or_default() {
        if let Object::Dictionary(kid) = resolve(file, kid)
            && depth > 0
            && ranges.len() < MAX_RANGES
        {
            gather(file, kid, depth - 1, ranges);
        }
    }
}

impl Range {
    fn label(&self, page: usize) -> String {
        let number = self.start.saturating_add(page - self.first);
        let printed = match self.style {
            Some('D') => number.to_string(),
            Some('r') => roman(number),
            Some('R') => roman(number).to_uppercase(),
            Some('a') => letters(number),
            Some('A') => letters(number).to_uppercase(),
            Some(_) | None => String::new(),
        };
        [self.prefix.as_str(), &printed].concat()
    }
}

/// Highest number written in Roman numerals; beyond it they would only grow long.
const MAX_ROMAN: usize = 4999;

fn roman(number: usize) -> String {
    const SIGNS: [(usize, &str); 13] = [
        (1000, "m"),
        (900, "cm"),
        (500, "d"),
        (400, "cd"),
        (100, "c"),
        (90, "xc"),
        (50, "l"),
        (40, "xl"),
        (10, "x"),
        (9, "ix"),
        (5, "v"),
        (4, "iv"),
        (1, "i"),
    ];
    if number > MAX_ROMAN {
        return number.to_string();
    }
    let (mut left, mut text) = (number, String::new());
    for (value, sign) in SIGNS {
        while left >= value {
            text.push_str(sign);
            left -= value;
        }
    }
    text
}

/// Writes a to z, then aa to zz, then aaa and so on.
fn letters(number: usize) -> String {
    let letter = char::from(b'a' + ((number.max(1) - 1) % 26) as u8);
    std::iter::repeat_n(letter, ((number.max(1) - 1) / 26 + 1).min(MAX_LETTERS)).collect()
}

#[cfg(test)]
mod tests {
    use std::fmt::Write;

    use super::*;

    /// Checks the labels of so many pages for a tree of labels, as written in a file, and the nodes below it.
    #[track_caller]
    fn check_labels(tree: &str, kids: &[&str], expected: &str) {
        let mut bytes = b"%PDF-1.4\n".to_vec();
        let mut table = String::new();
        let catalogue = "<</Type/Catalog/Pages 2 0 R/PageLabels 4 0 R>>";
        let objects = [catalogue, "<</Type/Pages/Kids[3 0 R]/Count 1>>", "<</Type/Page>>", tree];
        for (number, object) in (1..).zip(objects.iter().chain(kids)) {
            writeln!(table, "{:010} 00000 n ", bytes.len()).expect("a string takes any text");
            bytes.extend_from_slice(format!("{number} 0 obj{object}endobj\n").as_bytes());
        }
        let (start, size) = (bytes.len(), 5 + kids.len());
        let end = format!("trailer<</Size {size}/Root 1 0 R>>\nstartxref\n{start}\n%%EOF");
        bytes.extend_from_slice(format!("xref\n0 {size}\n0000000000 65535 f \n{table}{end}").as_bytes());
        let file = Document::load_mem(&bytes).expect("the file is sound");
        let pages = expected.split(' ').count();
        let labels: Vec<String> =
            read(&file, pages).into_iter().map(|label| label.unwrap_or("-".to_owned())).collect();
        assert_eq!(labels.join(" "), expected);
    }

    /// The example of ISO 32000-1, 12.4.2: four pages in Roman numerals, then Arabic ones, then an appendix from A-8 on.
    #[test]
    fn the_example_of_the_standard_is_labelled_as_it_says() {
        let tree = "<</Nums[0<</S/r>>4<</S/D>>7<</S/D/P(A-)/St 8>>]>>";
        check_labels(tree, &[], "i ii iii iv 1 2 3 A-8 A-9");
    }

    #[test]
    fn roman_numerals_and_letters_are_written_in_both_cases() {
        check_labels("<</Nums[0<</S/R/St 1998>>2<</S/r/St 9>>]>>", &[], "MCMXCVIII MCMXCIX ix x");
        check_labels("<</Nums[0<</S/a/St 26>>2<</S/A/St 53>>]>>", &[], "z aa AAA BBB");
    }

    #[test]
    fn a_range_without_style_has_its_prefix_only() {
        check_labels("<</Nums[0<</P(Cover)>>1<<>>2<</S/D>>]>>", &[], "Cover - 1");
        check_labels("<</Nums[0<</P<FEFF2640>/S/D>>]>>", &[], "♀1 ♀2");
    }

    #[test]
    fn a_tree_of_several_nodes_is_read_in_order() {
        let kids = ["<</Limits[2 2]/Nums[2<</S/D>>]>>", "<</Limits[0 0]/Nums[0<</S/r>>]>>"];
        check_labels("<</Kids[5 0 R 6 0 R]>>", &kids, "i ii 1 2");
    }

    #[test]
    fn a_tree_that_leads_back_to_itself_and_a_file_without_one_give_what_they_have() {
        check_labels("<</Kids[4 0 R]/Nums[1<</S/D>>]>>", &[], "- 1 2");
        check_labels("null", &[], "- -");
    }
}
