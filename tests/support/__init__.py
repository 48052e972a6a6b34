"""What the tests need from outside Python: a PostgreSQL server, a browser, Node. One file for each."""
