//! The site: one file per room the learner sees, and its shared parts.
