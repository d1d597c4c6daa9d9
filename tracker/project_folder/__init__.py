"""The readable project folder: CSV tables with a datapackage.json, read and written."""
