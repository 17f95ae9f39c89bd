"""The calculation booklet, tables, result file and terminal text: reads results and traces, computes nothing."""
