"""What checks ask of the marks on a page: where paint lies, on what, in which inks."""
