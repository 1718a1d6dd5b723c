using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>A C# file of the repository with its syntax tree.</summary>
/// <param name="Path">From the repository's root, with forward slashes, such as <c>src/Outcomes.Cli/Commands/RunCommand.cs</c>.</param>
/// <param name="Tree">The parsed text.</param>
internal sealed record SourceFile(string Path, SyntaxTree Tree)
{
    /// <summary>What stands for the folder of files that lie in the project's own.</summary>
    public const string ProjectRoot = "(root)";

    /// <summary>Such as <c>src/Outcomes.Cli</c>.</summary>
    public string Project => string.Join('/', Path.Split('/').Take(2));

    /// <summary>The first folder below the project.</summary>
    public string Folder => Path.Split('/') is { Length: > 3 } parts ? parts[2] : ProjectRoot;

    public static SourceFile Of(string path, string text) => new(path, CSharpSyntaxTree.ParseText(text, path: path));

    /// <summary>Every C# file below <c>src</c> and <c>tests</c> that a person wrote.</summary>
    public static IReadOnlyList<SourceFile> All(string root) =>
        [.. SourceTree.Files(root).Where(path => path.EndsWith(".cs", StringComparison.Ordinal))
            .Select(path => Of(path, File.ReadAllText(System.IO.Path.Combine(root, path))))];

    public int LineOf(SyntaxNode node) => LineOf(node.SpanStart);

    /// <summary>The 1-based line of a position.</summary>
    public int LineOf(int position) => Tree.GetText().Lines.GetLineFromPosition(position).LineNumber + 1;
}
