// A log on its way: its bytes as they are, told how far it is, stopped when asked.

export const sizeOf = (bytes) => (bytes >= 1e6
  ? `${(bytes / 1048576).toFixed(1)} MB` : `${Math.ceil(bytes / 1024)} kB`);

let sending = null;

export const stop = () => sending?.abort();

// Send a file; `tell` hears how much of it went. Resolves as `send` does.
export function upload(file, tell) {
  stop();
  const largest = Number(document.getElementById("file").dataset.largest);
  if (file.size > largest) {
    const problem = `'${file.name}' has ${sizeOf(file.size)}: ${sizeOf(largest)} at most; cut it to one flight`;
    return Promise.resolve({ ok: false, status: 413, told: { problem } });
  }
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    sending = request;
    const failed = (problem) => resolve({ ok: false, status: 0, told: { problem } });
    request.upload.onprogress = ({ loaded, total }) => tell(loaded, total);
    request.onabort = () => failed("");
    request.onerror = () => failed("the log could not be sent: the notebook is closed, or the file was changed. Nothing was written");
    request.onload = () => {
      let told;
      try {
        told = JSON.parse(request.responseText);
      } catch {
        told = { problem: request.responseText.trim() || "the notebook gave no answer" };
      }
      const { status } = request;
      resolve({ ok: status >= 200 && status < 300, status, told });
    };
    request.open("POST", `/flights/log?name=${encodeURIComponent(file.name)}`);
    request.setRequestHeader("content-type", "application/octet-stream");
    request.send(file);
  });
}
