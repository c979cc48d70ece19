"""The help of the site: the documentation as pages, and a search in it."""
