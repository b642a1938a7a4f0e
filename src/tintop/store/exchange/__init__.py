"""The logbook as readable text and as a spreadsheet, and the whole garage as a folder of text."""
