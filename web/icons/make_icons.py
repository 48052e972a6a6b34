"""Draw the PNG icons from public/icon.svg with the Chromium on the path. Run it after changing the drawing.

Everything that matters in the drawing lies within the inner circle of 80 % that maskable icons keep.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

PUBLIC = Path(__file__).resolve().parent.parent / "public"
SIZES_PX = {"icon-192.png": 192, "icon-512.png": 512, "icon-apple-180.png": 180}


def main() -> None:
    drawing = (PUBLIC / "icon.svg").read_text()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page()
        for name, size_px in SIZES_PX.items():
            page.set_viewport_size({"width": size_px, "height": size_px})
            page.set_content(f"<style>body{{margin:0}}svg{{display:block;width:100vw}}</style>{drawing}")
            page.screenshot(path=PUBLIC / name)
        browser.close()


if __name__ == "__main__":
    main()
