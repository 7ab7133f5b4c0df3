"""Rewrites a page's content so that the renderer draws plates. Begin with `page`, then `rewriter`."""
