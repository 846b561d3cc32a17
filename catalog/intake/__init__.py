"""Files of guide updates -> cells or documents -> what they say of which record. Never writes.

Reading (files, hostile or broken, in a process of its own) knows nothing of records; mapping knows nothing of files.
May import: catalog.domain, schemas, catalog.errors, defusedxml, openpyxl, pint, rapidfuzz. Never catalog.store or
catalog.services.
"""
