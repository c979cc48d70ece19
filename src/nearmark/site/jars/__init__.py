"""The shelf of practice jars and the page that shows one in 3-D."""
