import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Source files below a folder of the project, by their paths from its root. */
export function sourceFiles(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((path) => /\.tsx?$/.test(path) && !path.endsWith('.d.ts'))
    .map((path) => `${folder}/${path}`);
}

/** Calls a visitor with every node of a source file. */
export function visitSource(path: string, see: (node: ts.Node) => void): void {
  const text = readFileSync(join(root, path), 'utf8');
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
  const visit = (node: ts.Node) => {
    see(node);
    ts.forEachChild(node, visit);
  };
  visit(source);
}

/** The text of a string, or of a template with '{}' for what is put in; null of anything else. */
export function stringIn(node: ts.Node): string | null {
  if (ts.isStringLiteralLike(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return null;
  return node.head.text + node.templateSpans.map((span) => `{}${span.literal.text}`).join('');
}

/** The name of what is called: 'say' of `words.say(...)`. */
export function calledName({ expression }: ts.CallExpression): string {
  if (ts.isPropertyAccessExpression(expression)) return expression.name.text;
  return ts.isIdentifier(expression) ? expression.text : '';
}
