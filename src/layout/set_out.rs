//! The lines of one page come in, wherever they stand; rows of a grid of characters go out, columns side by side.
//!
//! No word is changed, left out or laid over another; what the lines mean is not known here.

use std::ops::Range;

use unicode_width::UnicodeWidthStr;

use crate::layout::{Gap, Line, Run, Style};

/// Cells between two lines of one row at least: a blank, a sign that may be put there, and a blank.
const BETWEEN: usize = 3;
/// Cells of a gap inside a line, or dots of a leader, at least.
const WIDE: usize = 2;
/// Characters of a line that counts for the average width of a character; shorter ones are labels and headings.
const LONG: usize = 20;
/// Share of the average width of a character down to which cells are narrowed so that columns stay apart. Lines of justified
/// type differ by a tenth or two.
const NARROWEST: f32 = 0.7;
/// Cells that a page is wide at most; more would be a drawing with single letters far apart.
const WIDEST: f32 = 240.0;
/// Width of a character in points where no line has any to measure: about the mean of type of ten points.
const ADVANCE: f32 = 4.2;
/// Distance of lines in their size where a page has too few to measure it.
const LEADING: f32 = 1.2;
/// Share of the leading within which baselines of different columns stand in one row.
const SAME_ROW: f32 = 0.5;
/// Leadings from which rows are parted by an empty one. Rows of columns that are not aligned are up to 1.5 apart.
const EMPTY_ROW: f32 = 1.6;
/// White space in the line's size at the right edge up to which what stands last is set flush right.
const FLUSH: f32 = 1.0;

/// One row of a page set out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SetRow {
    /// Its characters; empty where the page leaves white space.
    pub text: String,
    /// What stands in it, from left to right.
    pub runs: Vec<SetRun>,
}

/// A run of a line in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetRun {
    /// The bytes of the row that it takes.
    pub range: Range<usize>,
    /// The cell of its first character.
    pub cell: usize,
    /// The line that it belongs to, counted from 0 in the order that the lines came in.
    pub line: usize,
    /// Its style.
    pub style: Style,
}

/// Sets the lines of a page of this size (width and height in points) out on a grid of characters.
pub fn set_out(lines: &[&Line], size: (f32, f32)) -> Vec<SetRow> {
    let leading = leading(lines);
    let rows = rows(lines, leading);
    let left = lines.iter().map(|line| line.x0).fold(f32::INFINITY, f32::min);
    let grid = Grid { left, cell: cell(lines, &rows, size.0) };
    let mut set: Vec<SetRow> = Vec::new();
    let mut above: Option<f32> = None;
    for row in rows {
        let y = lines[row[0]].y;
        let type_size = row.iter().map(|at| lines[*at].size).fold(0.0, f32::max);
        let limit = EMPTY_ROW * leading.max(LEADING * type_size);
        if above.is_some_and(|above| y - above > limit) {
            set.push(SetRow::default());
        }
        set.push(grid.row(lines, &row));
        above = Some(y);
    }
    set
}

/// Returns the usual distance of baselines on the page.
fn leading(lines: &[&Line]) -> f32 {
    let middle = |mut values: Vec<f32>| {
        values.sort_by(f32::total_cmp);
        values.get(values.len() / 2).copied()
    };
    let known = lines.iter().map(|line| line.above).filter(|above| above.is_finite() && *above > 0.0);
    let sizes = || lines.iter().map(|line| line.size).collect();
    middle(known.collect()).or_else(|| middle(sizes()).map(|size| size * LEADING)).unwrap_or(1.0)
}

/// Puts lines into rows: from the top, beside each other where their baselines are near and neither covers the other.
fn rows(lines: &[&Line], leading: f32) -> Vec<Vec<usize>> {
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by(|a, b| lines[*a].y.total_cmp(&lines[*b].y).then(lines[*a].x0.total_cmp(&lines[*b].x0)));
    let mut rows: Vec<Vec<usize>> = Vec::new();
    for at in order {
        let line = lines[at];
        let beside = |other: &usize| line.x0 >= lines[*other].x1 || line.x1 <= lines[*other].x0;
        match rows.last_mut() {
            Some(row) if line.y - lines[row[0]].y < SAME_ROW * leading && row.iter().all(beside) => {
                row.push(at);
            }
            _ => rows.push(vec![at]),
        }
    }
    for row in &mut rows {
        row.sort_by(|a, b| lines[*a].x0.total_cmp(&lines[*b].x0));
    }
    rows
}

/// Returns the width of a cell in points: that of an average character, less where lines side by side need it.
fn cell(lines: &[&Line], rows: &[Vec<usize>], page: f32) -> f32 {
    let average = average(lines, LONG).or_else(|| average(lines, 1)).unwrap_or(ADVANCE);
    let pairs = rows.iter().flat_map(|row| row.windows(2));
    let needed = pairs.map(|pair| {
        let (one, other) = (lines[pair[0]], lines[pair[1]]);
        // One cell more, since both edges are rounded to the grid.
        (other.x0 - one.x0) / (width(one) + BETWEEN + 1) as f32
    });
    needed.fold(average, f32::min).max(NARROWEST * average).max(page / WIDEST).max(f32::EPSILON)
}

/// Returns the average width of a character in lines of at least so many.
fn average(lines: &[&Line], least: usize) -> Option<f32> {
    let long = lines.iter().map(|line| (line.x1 - line.x0, width(line))).filter(|(_, width)| *width >= least);
    let (points, characters) =
        long.fold((0.0, 0), |sum, (points, characters)| (sum.0 + points, sum.1 + characters));
    (points > 0.0).then(|| points / characters as f32)
}

/// Returns how many cells a line takes at least.
fn width(line: &Line) -> usize {
    let run = |(at, run): (usize, &Run)| (if at == 0 { 0 } else { least(run.before) }) + run.text.width();
    line.runs.iter().enumerate().map(run).sum()
}

/// Returns how many cells stand before a run at least.
fn least(gap: Gap) -> usize {
    match gap {
        Gap::None => 0,
        Gap::Space => 1,
        Gap::Wide | Gap::Leader => WIDE,
    }
}

/// Where the cells of a page lie.
struct Grid {
    left: f32,
    cell: f32,
}

impl Grid {
    /// Returns the cell of a place in points from the left of the page.
    fn at(&self, x: f32) -> usize {
        ((x - self.left) / self.cell).round().max(0.0) as usize
    }

    /// Sets lines side by side into a row, each at its place or as soon as the one before it ends.
    fn row(&self, lines: &[&Line], row: &[usize]) -> SetRow {
        let mut set = SetRow::default();
        let mut used = 0;
        for (place, at) in row.iter().enumerate() {
            let line = lines[*at];
            let start = self.at(line.x0).max(if place == 0 { 0 } else { used + BETWEEN });
            for (number, run) in line.runs.iter().enumerate() {
                let (fill, cell) = match run.before {
                    _ if number == 0 => (" ", start),
                    // A change of style within a word or between words must not tear them apart.
                    Gap::None | Gap::Space => (" ", used + least(run.before)),
                    Gap::Wide => (" ", self.after_gap(line, run).max(used + WIDE)),
                    Gap::Leader => (".", self.after_gap(line, run).max(used + WIDE)),
                };
                set.text.push_str(&fill.repeat(cell - used));
                // At a line's end a soft hyphen is printed, so it is here.
                let words = run.text.replace('\u{ad}', "-");
                let range = set.text.len()..set.text.len() + words.len();
                set.text.push_str(&words);
                used = cell + words.width();
                set.runs.push(SetRun { range, cell, line: *at, style: run.style });
            }
        }
        set
    }

    /// Returns the cell of a run behind white space or a leader: from the right where it is set flush right.
    fn after_gap(&self, line: &Line, run: &Run) -> usize {
        let last = line.runs.last().is_some_and(|last| std::ptr::eq(last, run));
        if last && (line.room < FLUSH * line.size || run.text.is_empty()) {
            self.at(run.x1).saturating_sub(run.text.width())
        } else {
            self.at(run.x0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LineEnd;

    /// Points that a character of the drawn lines takes.
    const CHARACTER: f32 = 5.0;

    /// Makes a line at a place from runs with what stands before them and where they begin.
    fn line((x0, y): (f32, f32), runs: &[(Gap, f32, &str)]) -> Line {
        let runs: Vec<Run> = runs
            .iter()
            .map(|(before, x, text)| Run {
                text: (*text).to_owned(),
                style: Style::default(),
                size: 10.0,
                x0: x0 + x,
                x1: x0 + x + text.chars().count() as f32 * CHARACTER,
                before: *before,
            })
            .collect();
        let x1 = runs.last().map_or(x0, |run| run.x1);
        let (column, indent, room) = (0, 0.0, 0.0);
        let above = f32::INFINITY;
        Line { page: 1, column, y, x0, x1, indent, room, size: 10.0, above, runs, end: LineEnd::Space }
    }

    fn text_line(x: f32, y: f32, words: &str) -> Line {
        line((x, y), &[(Gap::None, 0.0, words)])
    }

    #[track_caller]
    fn check_rows(lines: &[Line], expected: &[&str]) {
        let lines: Vec<&Line> = lines.iter().collect();
        let rows = set_out(&lines, (500.0, 700.0));
        let texts: Vec<&str> = rows.iter().map(|row| row.text.as_str()).collect();
        assert_eq!(texts, expected);
        for run in rows.iter().flat_map(|row| row.runs.iter().map(move |run| (row, run))) {
            let (row, run) = run;
            assert_eq!(row.text[..run.range.start].width(), run.cell, "{run:?}");
        }
    }

    #[test]
    fn two_columns_stand_side_by_side() {
        check_rows(
            &[
                text_line(40.0, 100.0, "Herbs with leaves"),
                text_line(40.0, 112.0, "all from the base"),
                text_line(150.0, 100.0, "Shrubs or trees of"),
                text_line(150.0, 112.0, "wet rock"),
            ],
            &["Herbs with leaves     Shrubs or trees of", "all from the base     wet rock"],
        );
    }

    #[test]
    fn columns_that_are_not_aligned_share_rows_by_the_nearest_line() {
        check_rows(
            &[
                text_line(40.0, 100.0, "Herbs with leaves"),
                text_line(40.0, 112.0, "all from the base"),
                text_line(150.0, 104.0, "Shrubs or trees of"),
                text_line(150.0, 116.0, "wet rock"),
            ],
            &["Herbs with leaves     Shrubs or trees of", "all from the base     wet rock"],
        );
    }

    #[test]
    fn a_dense_line_narrows_the_cells_and_never_touches_the_next_column() {
        let mut dense = text_line(40.0, 100.0, "a line of many narrow letters");
        dense.x1 = 145.0;
        check_rows(
            &[
                dense,
                text_line(150.0, 100.0, "right"),
                text_line(40.0, 112.0, "left"),
                text_line(150.0, 112.0, "right"),
            ],
            &["a line of many narrow letters    right", "left                             right"],
        );
    }

    #[test]
    fn a_line_over_another_one_has_a_row_of_its_own() {
        check_rows(
            &[text_line(40.0, 100.0, "Calyx"), text_line(50.0, 103.0, "Petals")],
            &["Calyx", "  Petals"],
        );
    }

    #[test]
    fn a_target_stands_at_the_right_edge_behind_its_leader() {
        check_rows(
            &[
                text_line(40.0, 100.0, "Leaves opposite, calyx inflated"),
                line((40.0, 112.0), &[(Gap::None, 0.0, "1. Petals red"), (Gap::Leader, 150.0, "2")]),
                line((40.0, 124.0), &[(Gap::None, 0.0, "2. Petals"), (Gap::Wide, 145.0, "12")]),
            ],
            &[
                "Leaves opposite, calyx inflated",
                "1. Petals red.................2",
                "2. Petals                    12",
            ],
        );
    }

    #[test]
    fn a_change_of_style_tears_no_word_and_runs_never_touch() {
        check_rows(
            &[line(
                (40.0, 100.0),
                &[(Gap::None, 0.0, "Sil"), (Gap::None, 60.0, "ene"), (Gap::Space, 100.0, "alta")],
            )],
            &["Silene alta"],
        );
        check_rows(
            &[line((40.0, 100.0), &[(Gap::None, 0.0, "Petals"), (Gap::Wide, 5.0, "red")])],
            &["Petals  red"],
        );
    }

    #[test]
    fn a_soft_hyphen_is_printed() {
        check_rows(&[text_line(40.0, 100.0, "func\u{ad}")], &["func-"]);
    }

    #[test]
    fn much_white_space_is_an_empty_row() {
        let far = [
            text_line(40.0, 100.0, "Key to the genera"),
            text_line(40.0, 130.0, "Leaves"),
            text_line(40.0, 142.0, "ovate"),
        ];
        check_rows(&far, &["Key to the genera", "", "Leaves", "ovate"]);
    }
}
