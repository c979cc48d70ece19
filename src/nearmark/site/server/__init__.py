"""The running server: settings, addresses, menu, middleware, doctor."""
