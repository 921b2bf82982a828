//! Reads a PDF back.
