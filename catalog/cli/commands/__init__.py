"""One module per command: options in, one service called, its page printed."""
