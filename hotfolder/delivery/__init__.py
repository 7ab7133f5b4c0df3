"""From a judged job to its folder, its log and its notice."""
