//! What can't be used is told with its place, and never with a panic.
