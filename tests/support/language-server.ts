import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

/** What the server has against a place in a file; lines count from 0. */
export interface Mark {
  readonly message: string;
  readonly range: { readonly start: { readonly line: number; readonly character: number } };
}

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
  readonly error?: { readonly message: string };
}

interface Completions {
  readonly items: readonly { readonly label: string }[];
}

/** No schema but the one that a file names in its first line, and nothing from the network. */
const SETTINGS: Readonly<Record<string, unknown>> = {
  yaml: {
    validate: true,
    hover: true,
    completion: true,
    schemaStore: { enable: false, url: '' },
    kubernetesCRDStore: { enable: false },
    schemas: {},
  },
};

/**
 * The language server that editors use for YAML, spoken to over stdio as an editor does (Language
 * Server Protocol 3.17): frames of JSON-RPC with their length before them.
 */
export class LanguageServer {
  readonly #child = spawn(
    process.execPath,
    [
      createRequire(import.meta.url).resolve('yaml-language-server/bin/yaml-language-server'),
      '--stdio',
    ],
    { stdio: ['pipe', 'pipe', 'ignore'] },
  );
  readonly #answers = new Map<number, (message: Message) => void>();
  readonly #marks = new Map<string, (marks: readonly Mark[]) => void>();
  #received = Buffer.alloc(0);
  #asked = 0;

  static async start(folder: string): Promise<LanguageServer> {
    const server = new LanguageServer();
    server.#child.stdout.on('data', (bytes: Buffer) => server.#take(bytes));
    await server.#ask('initialize', {
      processId: process.pid,
      rootUri: pathToFileURL(folder).href,
      capabilities: {
        textDocument: {
          hover: { contentFormat: ['plaintext'] },
          completion: { completionItem: { snippetSupport: false } },
          publishDiagnostics: {},
        },
        workspace: { configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
      },
    });
    server.#tell('initialized', {});
    server.#tell('workspace/didChangeConfiguration', { settings: SETTINGS });
    return server;
  }

  stop(): void {
    this.#child.kill();
  }

  /** Opens a text as the file of a path (once), and waits for what the server has against it. */
  async open(path: string, text: string): Promise<readonly Mark[]> {
    const uri = pathToFileURL(path).href;
    const marks = new Promise<readonly Mark[]>((resolve) => this.#marks.set(uri, resolve));
    this.#tell('textDocument/didOpen', {
      textDocument: { uri, languageId: 'yaml', version: 1, text },
    });
    return marks;
  }

  /** What is offered at a place of an open file. */
  async offered(path: string, line: number, character: number): Promise<readonly string[]> {
    const list = (await this.#ask('textDocument/completion', at(path, line, character))) as
      | Completions
      | Completions['items'];
    return ('items' in list ? list.items : list).map(({ label }) => label);
  }

  /** What is told of a place of an open file. */
  async told(path: string, line: number, character: number): Promise<string> {
    return JSON.stringify(await this.#ask('textDocument/hover', at(path, line, character)));
  }

  #ask(method: string, params: unknown): Promise<unknown> {
    const id = ++this.#asked;
    return new Promise((resolve, reject) => {
      this.#answers.set(id, ({ result, error }) => {
        if (error === undefined) resolve(result);
        else reject(new Error(error.message));
      });
      this.#send({ id, method, params });
    });
  }

  #tell(method: string, params: unknown): void {
    this.#send({ method, params });
  }

  #send(message: Message & { readonly params?: unknown }): void {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.#child.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.#child.stdin.write(body);
  }

  #take(bytes: Buffer): void {
    this.#received = Buffer.concat([this.#received, bytes]);
    for (;;) {
      const head = this.#received.indexOf('\r\n\r\n');
      if (head < 0) return;
      const length = Number(
        /Content-Length: (\d+)/i.exec(this.#received.toString('latin1', 0, head))?.[1],
      );
      const end = head + 4 + length;
      if (this.#received.length < end) return;
      const message = JSON.parse(this.#received.toString('utf8', head + 4, end)) as Message;
      this.#received = this.#received.subarray(end);
      this.#hear(message);
    }
  }

  #hear({ id, method, params, ...answer }: Message): void {
    if (method === undefined) {
      if (id !== undefined) this.#answers.get(id)?.(answer);
    } else if (method === 'textDocument/publishDiagnostics') {
      const { uri, diagnostics } = params as { uri: string; diagnostics: readonly Mark[] };
      this.#marks.get(uri)?.(diagnostics);
    } else if (id !== undefined) {
      // The server asks too: for settings by section, and whether it may register for changes.
      const { items = [] } = params as { items?: readonly { readonly section?: string }[] };
      const settings = items.map(({ section = '' }) => SETTINGS[section] ?? {});
      this.#send({ id, result: method === 'workspace/configuration' ? settings : null });
    }
  }
}

function at(path: string, line: number, character: number): unknown {
  return { textDocument: { uri: pathToFileURL(path).href }, position: { line, character } };
}
