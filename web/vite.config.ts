import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import preact from "@preact/preset-vite";
import { defineConfig, type Plugin } from "vite";

/** Tells the service worker which files make up the shell, and gives that set of files a name that changes with it. */
function shellList(publicFolder = "public"): Plugin {
  return {
    name: "shell-list",
    enforce: "post",
    generateBundle(_options, bundle) {
      const built = Object.values(bundle).filter((file) => file.fileName !== "sw.js");
      const hash = createHash("sha256");
      for (const file of built) hash.update(file.type === "chunk" ? file.code : file.source);
      const still = readdirSync(publicFolder);
      for (const name of still) hash.update(readFileSync(join(publicFolder, name)));
      const worker = bundle["sw.js"];
      if (worker?.type !== "chunk") throw new Error("the build made no sw.js");
      if (!bundle["index.html"]) throw new Error("index.html was not ready when the shell was listed");
      const names = [...built.map((file) => file.fileName).filter((name) => name !== "index.html"), ...still];
      worker.code = worker.code
        .replaceAll("__SHELL_FILES__", JSON.stringify(["/", ...names.sort().map((name) => `/${name}`)]))
        .replaceAll("__SHELL_VERSION__", JSON.stringify(hash.digest("hex").slice(0, 16)));
    },
  };
}

export default defineConfig({
  plugins: [preact(), shellList()],
  server: { proxy: { "/api": process.env.YOKEMATE_SERVER ?? "http://127.0.0.1:8000" } },
  build: {
    outDir: "../api/yokemate/_web",
    emptyOutDir: true,
    target: "es2022",
    // Content-Security-Policy is default-src 'self': nothing may be inlined as a data: address.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: { main: "index.html", sw: "src/sw/sw.ts" },
      output: {
        // What most screens use comes with the app itself: a dozen small files one behind the other cost a phone on a
        // slow line more than their bytes.
        codeSplitting: {
          groups: [
            { name: "parts", test: /src\/(?!ui\/(screens|drawings)|main|sw|gallery)/, minShareCount: 4 },
          ],
        },
        entryFileNames: (chunk) => (chunk.name === "sw" ? "sw.js" : "assets/[name]-[hash].js"),
      },
    },
  },
});
