"""Reading a spreadsheet with one line a batch, from seasons before the journal.

The way in is `reading.read_past_seasons`, then `bringing_in.plan_past_import` and `import_past_batches`. Inside,
one step a module: a file to a grid of cells (`text_grid`, `workbook`), the line of column names and what each
column holds (`header`, `header_words`), cells to values (`cells`, `day_cells`, `known_words`), lines to batches
(`lines`), and every line that stays out with its reason (`refusals`).
"""
