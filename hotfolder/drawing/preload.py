"""What a fork server imports, so that no child has to find Pillow's readers and writers of pictures."""

from PIL import Image

Image.preinit()
