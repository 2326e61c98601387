//! Which paths a piece of Rust names: source text in, every path with its line out, groups of `use` spelled out.
//!
//! Comments and literals are left aside. It reads what rustfmt and clippy let through and is no parser of all Rust.

/// A path as it is named somewhere.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Named {
    /// Its words; a macro's name ends in `!`, a method's begins with a dot, everything of a module is `*`.
    pub(crate) words: Vec<String>,
    /// The line, counted from 1.
    pub(crate) line: usize,
    /// How many modules written in the same file are around it.
    pub(crate) within: usize,
    /// Whether one of these is called `tests`.
    pub(crate) in_tests: bool,
}

/// Returns all paths of a source text in their order.
pub(crate) fn paths(source: &str) -> Vec<Named> {
    let tokens = tokens(source);
    let mut reader = Reader { tokens: &tokens, at: 0, braces: Vec::new(), found: Vec::new() };
    while reader.at < tokens.len() {
        reader.step();
    }
    reader.found
}

/// A word, `::` or one sign, with its line.
type Token = (String, usize);

/// Goes through the tokens of one file.
struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    /// For each open brace, the name of the module that began with it.
    braces: Vec<Option<&'a str>>,
    found: Vec<Named>,
}

impl<'a> Reader<'a> {
    fn peek(&self, ahead: usize) -> &'a str {
        self.tokens.get(self.at + ahead).map_or("", |(text, _)| text)
    }

    fn step(&mut self) {
        match self.peek(0) {
            "{" => self.braces.push(self.module()),
            "}" => _ = self.braces.pop(),
            "." if is_word(self.peek(1)) => {
                self.at += 1;
                let method = format!(".{}", self.peek(0));
                self.note(vec![method]);
            }
            word if is_word(word) => return self.path(&[]),
            _ => {}
        }
        self.at += 1;
    }

    /// Returns the name of the module that begins with the brace at hand.
    fn module(&self) -> Option<&'a str> {
        let before = self.tokens.get(self.at.checked_sub(2)?)?;
        (before.0 == "mod").then(|| self.tokens[self.at - 1].0.as_str())
    }

    /// Reads a path, or each path of a group, that goes on from these words.
    fn path(&mut self, before: &[String]) {
        let mut words = before.to_vec();
        loop {
            match self.peek(0) {
                "{" => return self.group(&words),
                "*" => words.push("*".to_owned()),
                word if is_word(word) => words.push(word.to_owned()),
                _ => {
                    // Generic arguments of the path's last word follow.
                    self.at -= 1;
                    break;
                }
            }
            if self.peek(1) != "::" {
                break;
            }
            self.at += 2;
        }
        if self.peek(1) == "!"
            && self.peek(2) != "="
            && let Some(last) = words.last_mut()
        {
            last.push('!');
        }
        self.note(words);
        self.at += 1;
    }

    fn group(&mut self, before: &[String]) {
        self.at += 1;
        while !matches!(self.peek(0), "}" | "") {
            if is_word(self.peek(0)) || self.peek(0) == "*" {
                self.path(before);
            }
            // A new name for it is of no interest.
            while !matches!(self.peek(0), "," | "}" | "") {
                self.at += 1;
            }
            if self.peek(0) == "," {
                self.at += 1;
            }
        }
        self.at += 1;
    }

    fn note(&mut self, words: Vec<String>) {
        let line = self.tokens[self.at.min(self.tokens.len() - 1)].1;
        let within = self.braces.iter().flatten().count();
        let in_tests = self.braces.contains(&Some("tests"));
        self.found.push(Named { words, line, within, in_tests });
    }
}

fn is_word(text: &str) -> bool {
    text.starts_with(is_word_letter)
}

fn is_word_letter(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// Returns the tokens without comments, strings, characters and lifetimes.
fn tokens(source: &str) -> Vec<Token> {
    let letters: Vec<char> = source.chars().collect();
    let (mut tokens, mut at, mut line) = (Vec::new(), 0, 1);
    while at < letters.len() {
        let rest = &letters[at..];
        let length = match rest {
            ['/', '/', ..] => rest.iter().position(|letter| *letter == '\n').unwrap_or(rest.len()),
            ['/', '*', ..] => comment(rest),
            ['"', ..] => string(rest),
            ['\'', ..] => quoted(rest),
            [':', ':', ..] => 2,
            [first, ..] if is_word_letter(*first) => {
                let word = rest.iter().take_while(|letter| is_word_letter(**letter)).count();
                word + raw_string(&rest[..word], &rest[word..])
            }
            _ => 1,
        };
        let first = rest[0];
        let token: String = rest[..length].iter().collect();
        let plain = !token.contains('"') && !token.starts_with("//") && !token.starts_with("/*");
        if plain && first != '\'' && !first.is_whitespace() {
            tokens.push((token, line));
        }
        line += rest[..length].iter().filter(|letter| **letter == '\n').count();
        at += length;
    }
    tokens
}

/// Returns the length of a comment, in which others may lie.
fn comment(rest: &[char]) -> usize {
    let (mut at, mut deep) = (0, 0);
    while at < rest.len() {
        match &rest[at..] {
            ['/', '*', ..] => (at, deep) = (at + 2, deep + 1),
            ['*', '/', ..] => (at, deep) = (at + 2, deep - 1),
            _ => at += 1,
        }
        if deep == 0 {
            break;
        }
    }
    at
}

/// Returns the length of a string with its quotes.
fn string(rest: &[char]) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != '"' {
        at += if rest[at] == '\\' { 2 } else { 1 };
    }
    (at + 1).min(rest.len())
}

/// Returns the length of a raw string behind its `r`, 0 where there is none.
fn raw_string(word: &[char], rest: &[char]) -> usize {
    let hashes = rest.iter().take_while(|letter| **letter == '#').count();
    if !matches!(word, ['r'] | ['b' | 'c', 'r']) || rest.get(hashes) != Some(&'"') {
        return 0;
    }
    let end: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
    let body = &rest[hashes + 1..];
    let length = body.windows(end.len()).position(|part| part == end).unwrap_or(body.len());
    (hashes + 1 + length + end.len()).min(rest.len())
}

/// Returns the length of a character in quotes, or of the quote and name of a lifetime.
fn quoted(rest: &[char]) -> usize {
    match rest {
        [_, '\\', ..] => {
            rest.iter().skip(3).position(|letter| *letter == '\'').map_or(rest.len(), |at| at + 4)
        }
        [_, _, '\'', ..] => 3,
        _ => 1 + rest[1..].iter().take_while(|letter| is_word_letter(**letter)).count(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks the paths of a snippet, written with `::` and blanks between.
    #[track_caller]
    fn check_paths(source: &str, expected: &str) {
        let found: Vec<String> = paths(source).iter().map(|named| named.words.join("::")).collect();
        assert_eq!(found.join(" "), expected, "{source}");
    }

    #[test]
    fn groups_are_spelled_out() {
        check_paths("use a::{b, c::{d, e as f}, *};", "use a::b a::c::d a::c::e a::*");
    }

    #[test]
    fn macros_methods_and_generics_are_told_apart() {
        check_paths("a::m!(b); c.d(); e != f; g::<h>()", "a::m! b c .d e f g h");
    }

    #[test]
    fn comments_and_literals_hold_no_path() {
        check_paths(
            "a // b::c\n/* d /* e */ f */ \"g \\\" h\" r#\"i\" j\"# 'k' '\\'' '\\u{1f}' b\"l\" <'m>",
            "a b",
        );
    }

    #[test]
    fn lines_and_modules_around_are_counted() {
        let found = paths("mod tests {\n    fn b() {\n        c::d();\n    }\n}\ne!();");
        let places: Vec<(&str, usize, usize, bool)> = found
            .iter()
            .filter_map(|named| {
                Some((named.words.last()?.as_str(), named.line, named.within, named.in_tests))
            })
            .filter(|(word, ..)| matches!(*word, "d" | "e!"))
            .collect();
        assert_eq!(places, [("d", 3, 1, true), ("e!", 6, 0, false)]);
    }
}
