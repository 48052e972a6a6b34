"""What the tests need from outside Python: a PostgreSQL server, a browser, the web app. One file for each."""
