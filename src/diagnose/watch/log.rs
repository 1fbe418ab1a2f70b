//! Rows of a log, handed to a watch as they come.

use super::Watch;
use super::record::Line;
use crate::logs::{LogError, LogReader, Span, Spans};
use std::io::BufRead;

/// A log that may still grow, and the chain of its spans.
pub struct Feed<R> {
    log: LogReader<R>,
    spans: Spans,
}

impl<R: BufRead> Feed<R> {
    /// From the first row of a log on.
    pub fn new(log: LogReader<R>) -> Feed<R> {
        let spans = Spans::new(log.layout().stamp_at);
        Feed { log, spans }
    }

    /// Reads at most `most` rows that are there by now and hands what they tell on; the number of
    /// rows read.
    ///
    /// # Errors
    /// Those of [`LogReader::next_row`].
    pub fn poll(
        &mut self,
        watch: &mut Watch<'_>,
        most: usize,
        out: &mut impl FnMut(&Line),
    ) -> Result<usize, LogError> {
        for rows in 0..most {
            let Some(row) = self.log.next_row()? else {
                return Ok(rows);
            };
            self.spans
                .push(&row, &mut |span| hand(watch, span, &mut *out));
        }
        Ok(most)
    }

    /// The log has ended: its last row counts too.
    pub fn finish(&mut self, watch: &mut Watch<'_>, out: &mut impl FnMut(&Line)) {
        self.spans.finish(&mut |span| hand(watch, span, &mut *out));
    }
}

fn hand(watch: &mut Watch<'_>, span: &Span, out: &mut impl FnMut(&Line)) {
    for line in watch.push(span) {
        out(&line);
    }
}
