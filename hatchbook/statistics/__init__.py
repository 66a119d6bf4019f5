"""The computing: pure functions over numbers and numpy arrays, without Qt and without the journal's file.

Every public function says its units and where its formula comes from. Import the module that is needed;
this package imports none of them, so that start-up pays for nothing it does not use.
"""
