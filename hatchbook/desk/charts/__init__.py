"""Everything that is plotted; the only place that knows pyqtgraph, which is imported once the window stands."""
