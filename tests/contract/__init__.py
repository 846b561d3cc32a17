"""What any text library behind catalog.search must do. Imports only catalog.search, numpy and
pytest, so that it also runs in an environment with another release of the library."""
