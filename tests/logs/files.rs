//! What matters in single files, said apart from the reviewed texts.
