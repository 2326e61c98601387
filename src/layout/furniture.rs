//! The pieces of all pages come in; running heads and folios are taken out of them, and kept by page.
//!
//! A head is known by standing at the same height on many pages, apart from the text, whatever it says.

use rayon::prelude::*;

use crate::layout::pieces::Piece;

/// Points within which heads of different pages stand at one height.
const SAME_HEIGHT: f32 = 3.0;
/// Share of the pages that a height must be used on to be that of heads.
const MIN_SHARE: f32 = 0.2;
/// Pages below which nothing can be said to repeat.
const MIN_PAGES: usize = 4;
/// Distance to the text in its own size from which a row stands apart from it.
const APART: f32 = 1.55;
/// Distance in its size from a head taken away up to which a row with the folio is the head's second line.
const SECOND_LINE: f32 = 1.5;
/// The same as a multiple of the usual distance of rows: text laid under a scan may say any size.
const APART_FROM_ROWS: f32 = 1.1;
/// Rows at each end of a page that may be heads.
const MAX_ROWS: usize = 3;
/// Share of a page's height at each end where heads stand.
const MARGIN: f32 = 0.16;

/// A page with its pieces.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet {
    /// Its pieces.
    pub(super) pieces: Vec<Piece>,
    /// Width and height.
    pub(super) size: (f32, f32),
    /// Its folio, once found.
    pub(super) folio: Option<String>,
    /// Its heads, once taken out.
    pub(super) heads: Vec<String>,
    /// The pieces of its heads.
    pub(super) taken: Vec<Piece>,
}

/// Pieces on one baseline over the whole width.
#[derive(Clone, Debug)]
struct Row {
    y: f32,
    size: f32,
    pieces: Vec<usize>,
    text: String,
    /// Whether the file marks all of it as furniture.
    furniture: bool,
    /// Distance to the next row towards the middle of the page.
    apart: f32,
    /// Usual distance of the page's rows.
    usual: f32,
}

/// Ends of a page.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Top,
    Bottom,
}

/// Takes running heads and folios away.
pub(super) fn take_away(sheets: &mut [Sheet]) {
    if sheets.len() < MIN_PAGES {
        return;
    }
    let offsets = folio_offsets(sheets);
    for end in [End::Top, End::Bottom] {
        let mut taken = vec![None; sheets.len()];
        for _ in 0..MAX_ROWS {
            if !take_outermost(sheets, end, &offsets, &mut taken) {
                break;
            }
        }
    }
}

/// Takes away the heads among the outermost rows of one end; tells whether there were any. `taken` holds the height of
/// the last head taken from each page at this end.
fn take_outermost(sheets: &mut [Sheet], end: End, offsets: &[Folio], taken: &mut [Option<f32>]) -> bool {
    let rows: Vec<Option<Row>> = sheets.par_iter().map(|sheet| outermost(sheet, end)).collect();
    let mut any = false;
    let heights = heights(&rows, sheets.len());
    for (index, (sheet, row)) in sheets.iter_mut().zip(rows).enumerate() {
        let Some(row) = row else { continue };
        let number = folios_of(&row.text).find(|(folio, _)| offsets.contains(&folio.on_page(index)));
        let lone_folio = number.as_ref().is_some_and(|(_, text)| *text == row.text.trim());
        let at_height = heights.iter().any(|height| (height - row.y).abs() <= SAME_HEIGHT);
        let second_line = number.is_some()
            && taken[index].is_some_and(|head| (row.y - head).abs() <= SECOND_LINE * row.size);
        if !(at_height || row.furniture || lone_folio || second_line) {
            continue;
        }
        any = true;
        taken[index] = Some(row.y);
        let sure = number.map(|(_, text)| text);
        let unsure = || folios_of(&row.text).next().map(|(_, text)| text).filter(|_| offsets.is_empty());
        sheet.folio = sheet.folio.take().or(sure).or_else(unsure);
        sheet.heads.push(row.text);
        sheet.taken.extend(row.pieces.iter().map(|&at| sheet.pieces[at].clone()));
        let mut place = 0;
        sheet.pieces.retain(|_| {
            place += 1;
            !row.pieces.contains(&(place - 1))
        });
    }
    any
}

/// Returns the outermost row of a page if it stands in the margin's reach.
fn outermost(sheet: &Sheet, end: End) -> Option<Row> {
    let height = sheet.size.1;
    let reach = height * MARGIN;
    let sign = if end == End::Top { 1.0 } else { -1.0 };
    let edge = sheet.pieces.iter().map(|piece| piece.y * sign).reduce(f32::min)? * sign;
    let in_reach = if end == End::Top { edge <= reach } else { edge >= height - reach };
    if !in_reach {
        return None;
    }
    let size = sheet
        .pieces
        .iter()
        .filter(|piece| (piece.y - edge).abs() < 0.1)
        .map(|piece| piece.size)
        .reduce(f32::max)?;
    let tolerance = 0.3 * size;
    let mut pieces: Vec<usize> =
        (0..sheet.pieces.len()).filter(|&index| (sheet.pieces[index].y - edge).abs() <= tolerance).collect();
    pieces.sort_by(|&one, &other| sheet.pieces[one].x0.total_cmp(&sheet.pieces[other].x0));
    let next = sheet
        .pieces
        .iter()
        .filter(|piece| (piece.y - edge).abs() > tolerance)
        .map(|piece| (piece.y - edge).abs());
    let texts: Vec<String> = pieces.iter().map(|&index| sheet.pieces[index].text()).collect();
    Some(Row {
        y: edge,
        size,
        furniture: pieces.iter().all(|&index| sheet.pieces[index].furniture),
        pieces,
        text: texts.join(" "),
        apart: next.reduce(f32::min).unwrap_or(f32::INFINITY),
        usual: usual_distance(sheet, tolerance),
    })
}

/// Returns the heights at which heads stand: used often, and apart from the text or with words that repeat.
fn heights(rows: &[Option<Row>], pages: usize) -> Vec<f32> {
    let mut by_height: Vec<&Row> = rows.iter().flatten().collect();
    by_height.sort_by(|one, other| one.y.total_cmp(&other.y));
    let mut heights = Vec::new();
    let mut start = 0;
    while start < by_height.len() {
        let first = by_height[start].y;
        let end = start + by_height[start..].iter().take_while(|row| row.y - first <= SAME_HEIGHT).count();
        let group = &by_height[start..end];
        if group.len() as f32 >= MIN_SHARE * pages as f32
            && group.len() >= 2
            && (stands_apart(group) || repeats(group))
        {
            heights.push(group[group.len() / 2].y);
        }
        start = end;
    }
    heights
}

/// Returns the distance from row to row that is in the middle of all on the page.
fn usual_distance(sheet: &Sheet, same_row: f32) -> f32 {
    let mut heights: Vec<f32> = sheet.pieces.iter().map(|piece| piece.y).collect();
    heights.sort_unstable_by(f32::total_cmp);
    let mut distances: Vec<f32> =
        heights.windows(2).map(|pair| pair[1] - pair[0]).filter(|distance| *distance > same_row).collect();
    let middle = distances.len() / 2;
    if distances.is_empty() { 0.0 } else { *distances.select_nth_unstable_by(middle, f32::total_cmp).1 }
}

fn stands_apart(group: &[&Row]) -> bool {
    let apart = group
        .iter()
        .filter(|row| row.apart > APART * row.size && row.apart > APART_FROM_ROWS * row.usual)
        .count();
    apart * 10 >= group.len() * 9
}

/// Tells whether most rows say the same but for numbers.
fn repeats(group: &[&Row]) -> bool {
    let mut texts: Vec<String> = group
        .iter()
        .map(|row| {
            row.text
                .chars()
                .filter(|character| character.is_alphabetic())
                .flat_map(char::to_lowercase)
                .collect()
        })
        .collect();
    texts.sort_unstable();
    let mut most = 0;
    let mut start = 0;
    while start < texts.len() {
        let length = texts[start..].iter().take_while(|text| **text == texts[start]).count();
        most = most.max(length);
        start += length;
    }
    most * 2 > group.len()
}

/// A number as printed: in Roman or Arabic numerals.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Folio {
    roman: bool,
    value: i64,
}

impl Folio {
    /// Returns the difference to the place of the page, in the same numerals.
    fn on_page(self, index: usize) -> Self {
        Self { value: self.value - index as i64, ..self }
    }
}

/// Returns the differences between folio and place of the page that several pages share.
fn folio_offsets(sheets: &[Sheet]) -> Vec<Folio> {
    let mut offsets: Vec<Folio> = sheets
        .par_iter()
        .enumerate()
        .flat_map_iter(|(index, sheet)| {
            [End::Top, End::Bottom].into_iter().filter_map(|end| outermost(sheet, end)).flat_map(move |row| {
                let folios: Vec<Folio> =
                    folios_of(&row.text).map(|(folio, _)| folio.on_page(index)).collect();
                folios
            })
        })
        .collect();
    offsets.sort_unstable();
    let mut trusted = Vec::new();
    let mut start = 0;
    while start < offsets.len() {
        let length = offsets[start..].iter().take_while(|offset| **offset == offsets[start]).count();
        if length >= MIN_PAGES {
            trusted.push(offsets[start]);
        }
        start += length;
    }
    trusted
}

/// Returns the numbers of a row, and as printed: those at its start and end first, where small Roman numerals count.
fn folios_of(text: &str) -> impl Iterator<Item = (Folio, String)> + '_ {
    let words: Vec<&str> = text.split_whitespace().collect();
    let last = words.len().saturating_sub(1);
    let at = |index: usize| words.get(index).copied().map(|word| (word, true));
    let ends = [at(0), (last > 0).then(|| at(last)).flatten()];
    let middle: Vec<(&str, bool)> = (1..last).map(|index| (words[index], false)).collect();
    ends.into_iter().flatten().chain(middle).filter_map(|(word, at_end)| {
        let word = word.trim_matches(|character: char| !character.is_alphanumeric());
        let arabic =
            word.parse().ok().filter(|value| *value < 10_000).map(|value| Folio { roman: false, value });
        let roman = || roman(word).filter(|_| at_end).map(|value| Folio { roman: true, value });
        Some((arabic.or_else(roman)?, word.to_owned()))
    })
}

fn roman(word: &str) -> Option<i64> {
    let mut total = 0;
    let mut last = 0;
    for letter in word.chars().rev() {
        let value = match letter {
            'i' => 1,
            'v' => 5,
            'x' => 10,
            'l' => 50,
            'c' => 100,
            _ => return None,
        };
        total += if value < last { -value } else { value };
        last = last.max(value);
    }
    (total > 0).then_some(total)
}
