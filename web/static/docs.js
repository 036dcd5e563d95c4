// Starts the viewer of the interface; a file of its own because the pages allow no inline script.
window.SwaggerUIBundle({
  url: "openapi.json",
  dom_id: "#swagger-ui",
  deepLinking: true,
  validatorUrl: null,
  syntaxHighlight: false,
  presets: [window.SwaggerUIBundle.presets.apis],
});
