"""The record: typed tables, one session scope, migrations, queries, the shipped tables, backup."""
