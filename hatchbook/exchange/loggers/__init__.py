"""Reading what temperature and humidity loggers write.

The way in is `hatchbook.exchange.logger_file.read_logger_file`. Inside, one step a module: bytes to text
(`text_decoding`), a sample of lines to a layout (`layout_guess`, `column_guess`), lines to cells
(`line_parsing`), cells to numbers and calendar parts by their shape (`cell_shapes`, `number_cells`,
`date_cells`), calendar parts to instants (`date_order`, `local_time`), instants to a series that runs forward
(`time_order`), and everything that stayed out with its reason (`rejects`).
"""
