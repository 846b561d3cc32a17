"""Whether the probabilities hold: what they were fitted to, how that stands today, how often each word was right.

A calibration is a temperature and a bias of vehicles not listed, kept under the hashes of the reader, the
parameters and the labels it was made with. Imports catalog.domain and, of catalog.resolve, everything that
weighs a description; nothing that weighs one imports this.
"""
