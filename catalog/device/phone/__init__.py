"""What the phone shows, worked out once: plain views in words, from a record, its steps and the scene.

Pure, and written so that it can be translated (catalog/device/translate): the page's script only puts it on the page.

May import: catalog.domain, catalog.resolve, catalog.plan, catalog.draw and the standard library.
"""
