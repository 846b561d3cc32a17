"""From a posterior to what a person reads: what was understood, the possible vehicles in rows, what to ask next.

Pure, the same for the server's pages and for the engine on a phone. May import what catalog.resolve may.
"""
