import { join } from "node:path";
import ts from "typescript";

export interface PublicFunction {
  name: string;
  /** Path of the source, for messages. */
  file: string;
  /** The docstring's text without its tags; empty: none. */
  description: string;
  /** The @example lines as written. */
  examples: string[];
}

let found: PublicFunction[] | null = null;

/** Every function that the library's index exports, with its docstring, as the compiler sees them. */
export function publicFunctions(): readonly PublicFunction[] {
  found ??= findPublicFunctions();
  return found;
}

function findPublicFunctions(): PublicFunction[] {
  const index = join(process.cwd(), "src/index.ts");
  const program = ts.createProgram([index], {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    resolveJsonModule: true,
    skipLibCheck: true,
    noLib: true,
    types: [],
  });
  const checker = program.getTypeChecker();
  const module = checker.getSymbolAtLocation(program.getSourceFile(index)!)!;
  return checker.getExportsOfModule(module).flatMap((exported): PublicFunction[] => {
    const symbol = exported.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(exported) : exported;
    const declaration = symbol.declarations?.find(ts.isFunctionDeclaration);
    if (declaration === undefined) return [];
    const examples = symbol
      .getJsDocTags(checker)
      .filter(({ name }) => name === "example")
      .map(({ text }) => ts.displayPartsToString(text).trim());
    return [
      {
        name: exported.name,
        file: declaration.getSourceFile().fileName.replace(`${process.cwd()}/`, ""),
        description: ts.displayPartsToString(symbol.getDocumentationComment(checker)),
        examples,
      },
    ];
  });
}
