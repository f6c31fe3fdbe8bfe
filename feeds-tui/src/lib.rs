//! The program `feeds`: terminal screens and plain commands.
