using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>A file that names a type declared in another folder of its project.</summary>
internal readonly record struct Import(string From, string To, string File, int Line, string Type);

/// <summary>
/// Who names whom between the folders of one project. Names are bound by the compiler's own rules, since two things may share a name;
/// what comes from outside the project need not be found. A folder is the first below the project, and the project's own counts as one.
/// </summary>
internal static class FolderGraph
{
    /// <summary>Every naming, also by an extension method's call, of a type that the file's own folder does not declare.</summary>
    public static IReadOnlyList<Import> Imports(IReadOnlyList<SourceFile> project, IEnumerable<MetadataReference> references)
    {
        var folders = project.ToDictionary(file => file.Tree, file => file.Folder);
        var compilation = CSharpCompilation.Create("sources", folders.Keys, references);
        return [.. project.SelectMany(file => OfFile(file, compilation.GetSemanticModel(file.Tree), folders))];
    }

    /// <summary>
    /// The groups of folders that reach each other, one violation an arrow within a group: at the first place that draws it, with the
    /// number of others.
    /// </summary>
    public static IEnumerable<Violation> Cycles(string project, IReadOnlyList<Import> imports)
    {
        var arrows = imports.ToLookup(import => import.From, import => import.To);
        var reach = imports.Select(import => import.From).Distinct().ToDictionary(folder => folder, folder => Reach(folder, arrows));
        return imports.Where(import => reach.TryGetValue(import.To, out var back) && back.Contains(import.From))
            .GroupBy(import => (import.From, import.To)).Select(arrow => Explain(project, arrow.ToList(), Circle(arrow.Key.From, reach)));
    }

    /// <summary>The folders that can be reached from one and lead back to it, in order of name.</summary>
    private static string Circle(string folder, Dictionary<string, HashSet<string>> reach) => string.Join(", ",
        reach.Keys.Where(other => reach[folder].Contains(other) && reach[other].Contains(folder)).Order(StringComparer.Ordinal));

    private static Violation Explain(string project, List<Import> arrow, string circle)
    {
        var first = arrow.OrderBy(import => import.File, StringComparer.Ordinal).ThenBy(import => import.Line).First();
        var types = arrow.Select(import => import.Type).Distinct().Order(StringComparer.Ordinal);
        return new(first.File, first.Line,
            $"{project}, circle of {circle}: {first.From} -> {first.To} at {arrow.Count} places, to {string.Join(", ", types)}");
    }

    private static HashSet<string> Reach(string from, ILookup<string, string> arrows)
    {
        var seen = new HashSet<string>();
        var open = new Stack<string>(arrows[from]);
        while (open.TryPop(out var folder))
            if (seen.Add(folder))
                foreach (var next in arrows[folder])
                    open.Push(next);
        return seen;
    }

    private static IEnumerable<Import> OfFile(SourceFile file, SemanticModel model, Dictionary<SyntaxTree, string> folders)
    {
        foreach (var name in file.Tree.GetRoot().DescendantNodes().OfType<SimpleNameSyntax>())
        {
            if (TypeOf(model.GetSymbolInfo(name)) is not { } type) continue;
            var declared = type.DeclaringSyntaxReferences.Select(place => folders[place.SyntaxTree]).Distinct().ToList();
            if (declared.Contains(file.Folder)) continue;
            foreach (var folder in declared) yield return new(file.Folder, folder, file.Path, file.LineOf(name), type.Name);
        }
    }

    // An attribute's name stands for its constructor. What binds to no one thing for want of a reference may still be known.
    private static INamedTypeSymbol? TypeOf(SymbolInfo info) => (info.Symbol ?? info.CandidateSymbols.FirstOrDefault()) switch
    {
        INamedTypeSymbol type => type.OriginalDefinition,
        IMethodSymbol { MethodKind: MethodKind.Constructor } constructor => constructor.ContainingType.OriginalDefinition,
        IMethodSymbol { IsExtensionMethod: true } method => method.ContainingType,
        _ => null,
    };
}
