//! Tests of the whole program, through its binary and its rooms' doors; one module a subject.

#![expect(clippy::needless_raw_string_hashes, reason = "expect-test writes expected texts with them")]

mod bad_input;
mod cli;
mod house;
mod keying;
mod network;
mod pages;
mod readme;
mod reference;
mod rooms;
mod sessions;
mod source;
mod support;
mod text;
mod walks;
mod words;
