//! Engagements that differ so little that their loads are alike within a hundredth.
