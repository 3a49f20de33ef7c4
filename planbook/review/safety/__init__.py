"""Rules about dangers that only the maker can decide about; the booklet prints the other cautions by itself."""
