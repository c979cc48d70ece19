"""The web application: accounts and devices, kit room, event day, public page.  No formula here."""
