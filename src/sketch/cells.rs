//! Dots in, rows of characters out: braille, quarter blocks, or plain ASCII for terminals that have neither.

use crate::sketch::grid::Grid;
use crate::sketch::pen::Mark;

/// What dots are shown with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dots {
    /// Braille patterns, two by four dots a cell.
    Braille,
    /// Quarter blocks, two by two dots a cell.
    Blocks,
    /// Printable ASCII that looks somewhat like what is in the cell.
    Ascii,
}

/// Dots of a cell, across and down.
const CELL: (usize, usize) = (2, 4);

/// The first braille pattern, the one without dots.
const BRAILLE: u32 = 0x2800;

/// The bit of each dot of a braille pattern, row by row.
const BRAILLE_BITS: [u32; 8] = [0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80];

/// Quarter blocks by their quarters: upper left 1, upper right 2, lower left 4, lower right 8.
const QUARTERS: [char; 16] = [' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█'];

/// ASCII characters with the dots that they look like, row by row; the first of those that are equally near is taken.
const ASCII: &[(char, [u8; 8])] = &[
    (' ', [0, 0, 0, 0, 0, 0, 0, 0]),
    ('|', [1, 0, 1, 0, 1, 0, 1, 0]),
    ('|', [0, 1, 0, 1, 0, 1, 0, 1]),
    ('/', [0, 1, 0, 1, 1, 0, 1, 0]),
    ('\\', [1, 0, 1, 0, 0, 1, 0, 1]),
    ('-', [0, 0, 1, 1, 0, 0, 0, 0]),
    ('-', [0, 0, 0, 0, 1, 1, 0, 0]),
    ('_', [0, 0, 0, 0, 0, 0, 1, 1]),
    ('"', [1, 1, 0, 0, 0, 0, 0, 0]),
    ('\'', [1, 0, 1, 0, 0, 0, 0, 0]),
    ('\'', [0, 1, 0, 1, 0, 0, 0, 0]),
    ('\'', [0, 1, 0, 0, 0, 0, 0, 0]),
    ('`', [1, 0, 0, 0, 0, 0, 0, 0]),
    ('`', [1, 0, 0, 1, 0, 0, 0, 0]),
    ('\'', [0, 1, 1, 0, 0, 0, 0, 0]),
    ('.', [0, 0, 0, 0, 0, 0, 1, 0]),
    ('.', [0, 0, 0, 0, 0, 0, 0, 1]),
    ('.', [0, 0, 0, 0, 0, 1, 1, 0]),
    ('.', [0, 0, 0, 0, 1, 0, 0, 1]),
    (',', [0, 0, 0, 0, 1, 0, 1, 0]),
    (',', [0, 0, 0, 0, 0, 1, 0, 1]),
    ('~', [0, 0, 1, 0, 0, 1, 0, 0]),
    ('~', [0, 0, 0, 1, 1, 0, 0, 0]),
    ('-', [0, 0, 0, 1, 0, 0, 0, 0]),
    ('-', [0, 0, 1, 0, 0, 0, 0, 0]),
    ('-', [0, 0, 0, 0, 1, 0, 0, 0]),
    ('-', [0, 0, 0, 0, 0, 1, 0, 0]),
    (':', [0, 0, 1, 0, 0, 0, 1, 0]),
    (':', [0, 1, 0, 0, 0, 1, 0, 0]),
    ('=', [0, 0, 1, 1, 0, 0, 1, 1]),
    ('=', [1, 1, 0, 0, 1, 1, 0, 0]),
    ('<', [0, 1, 1, 0, 0, 1, 0, 0]),
    ('>', [1, 0, 0, 1, 1, 0, 0, 0]),
    ('v', [0, 0, 1, 1, 1, 1, 0, 0]),
    ('o', [0, 0, 1, 1, 1, 1, 1, 1]),
    ('P', [1, 1, 1, 1, 1, 0, 1, 0]),
    ('q', [1, 1, 1, 1, 0, 1, 0, 1]),
    ('b', [1, 0, 1, 0, 1, 1, 1, 1]),
    ('d', [0, 1, 0, 1, 1, 1, 1, 1]),
    ('*', [1, 1, 1, 1, 0, 0, 0, 0]),
    ('r', [1, 1, 1, 0, 1, 0, 1, 0]),
    ('7', [1, 1, 0, 1, 0, 1, 0, 1]),
    ('L', [1, 0, 1, 0, 1, 0, 1, 1]),
    ('J', [0, 1, 0, 1, 0, 1, 1, 1]),
    ('Y', [1, 1, 1, 1, 1, 0, 0, 1]),
    ('#', [1, 1, 1, 1, 1, 1, 1, 1]),
];

/// Returns the rows of a window of so many columns and rows.
pub(super) fn rows(marks: &[Mark], (columns, rows): (u16, u16), dots: Dots) -> Vec<String> {
    let (columns, rows) = (usize::from(columns), usize::from(rows));
    let grid = Grid::new(columns * CELL.0, rows * CELL.1, marks);
    (0..rows).map(|row| (0..columns).map(|column| cell(&grid, (column, row), dots)).collect()).collect()
}

/// Returns the character of a cell.
fn cell(grid: &Grid, (column, row): (usize, usize), dots: Dots) -> char {
    let cell: [bool; 8] =
        std::array::from_fn(|at| grid.dot(column * CELL.0 + at % CELL.0, row * CELL.1 + at / CELL.0));
    match dots {
        Dots::Braille => braille(cell),
        Dots::Blocks => quarters(cell),
        Dots::Ascii => ascii(cell),
    }
}

fn braille(cell: [bool; 8]) -> char {
    let bits: u32 = cell.iter().zip(BRAILLE_BITS).filter(|(dot, _)| **dot).map(|(_, bit)| bit).sum();
    char::from_u32(BRAILLE + bits).expect("all patterns of eight dots are characters")
}

fn quarters(cell: [bool; 8]) -> char {
    let quarter = |at: usize| usize::from(cell[at] || cell[at + 2]);
    QUARTERS[quarter(0) + 2 * quarter(1) + 4 * quarter(4) + 8 * quarter(5)]
}

fn ascii(cell: [bool; 8]) -> char {
    let differing =
        |looks: &[u8; 8]| looks.iter().zip(cell).filter(|(look, dot)| (**look == 1) != *dot).count();
    let blank = !cell.contains(&true);
    let near = ASCII.iter().filter(|(character, _)| blank || *character != ' ');
    near.min_by_key(|(_, looks)| differing(looks)).map_or(' ', |(character, _)| *character)
}
