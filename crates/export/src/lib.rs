//! Saves and prints: project files, sheets and their writers, pictures, reports.
