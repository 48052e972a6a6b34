"""Keeping a build: tables, engines, the one transaction, the ledger, receipts, people and reads.

The only room that knows SQLModel and SQLAlchemy. Ledger tables are only ever appended to; state rows are
disposable and can be rebuilt by replaying the ledger.
"""
