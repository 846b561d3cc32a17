"""Ask next: which question, put to this caller, is worth most; and how its answer counts.

Imports catalog.resolve only, and numpy. What is asked is data (parameters/questions.json).
`safety` says what may be asked of whom, `weighing` what each answer would do, `loss` what is lost
by not knowing, `choosing` puts them in order, `answers` turns answers into cues.
"""
