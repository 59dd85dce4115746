//! The program: words and exit code.

fn main() {}
