"""One module per page or pair of pages. Each adds its routes to the blueprint it is handed."""
