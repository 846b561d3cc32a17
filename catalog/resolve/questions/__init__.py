"""Ask next: which question, put to this caller, is worth most; and how its answer counts.

Imports catalog.resolve only, and numpy. What is asked is data (data/questions.json, read by
`table`). `safety` says what may be asked of whom, `outcomes` and `name_outcomes` what each answer
would do, `loss` what is lost by not knowing, `worth` what asking is worth; `choosing` puts questions
in order, `answers` turns what was answered into cues.
"""
