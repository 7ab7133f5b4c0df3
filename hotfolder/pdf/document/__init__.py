"""What a document says as a whole: pages, boxes, layers, identification, output intents."""
