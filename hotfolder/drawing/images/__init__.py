"""Pictures in a PDF: decoded, masked, and made ready for a drawing."""
