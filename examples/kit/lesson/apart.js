// The library in a worker: it works answers out while the page draws. Each message is answered by one, in their order.
let library;
addEventListener("message", async ({ data }) => {
  try {
    if (data.module) library = await open(data.module);
    postMessage({ answer: data.module ? null : library.call(data.question, data.asked) });
  } catch (e) {
    postMessage({ error: e.message });
  }
});
addEventListener("messageerror", () => postMessage({ error: "the module cannot be passed to a worker" }));
