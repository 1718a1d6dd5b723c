using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>The width of lines, and the names of files.</summary>
internal static class Lines
{
    /// <summary>
    /// Lines with more characters than <paramref name="most"/>. Lines that lie wholly within a raw string are exempt: breaking one would
    /// change the page or the query that the string holds.
    /// </summary>
    public static IEnumerable<Violation> TooLong(SourceFile file, int most)
    {
        var raw = Raw(file.Tree.GetRoot()).ToHashSet();
        return file.Tree.GetText().Lines.Where(line => line.Span.Length > most && !raw.Contains(line.LineNumber))
            .Select(line => new Violation(file.Path, line.LineNumber + 1, $"{line.Span.Length} characters"));
    }

    /// <summary>A file that declares types, none of which is named as the file (up to its first dot).</summary>
    public static IEnumerable<Violation> Misnamed(SourceFile file)
    {
        var name = Path.GetFileName(file.Path).Split('.')[0];
        var types = file.Tree.GetRoot().DescendantNodes(node => node is CompilationUnitSyntax or BaseNamespaceDeclarationSyntax)
            .OfType<MemberDeclarationSyntax>().Select(NameOf).OfType<string>().ToList();
        return types.Count == 0 || types.Contains(name) ? [] : [new(file.Path, 0, $"declares {string.Join(", ", types)}, and no {name}")];
    }

    private static string? NameOf(MemberDeclarationSyntax member) => member switch
    {
        BaseTypeDeclarationSyntax type => type.Identifier.Text,
        DelegateDeclarationSyntax shape => shape.Identifier.Text,
        _ => null,
    };

    // 0-based. The lines with the quotes hold code too and are not exempt.
    private static IEnumerable<int> Raw(SyntaxNode root)
    {
        var literals = root.DescendantTokens().Where(token => token.IsKind(SyntaxKind.MultiLineRawStringLiteralToken)
            || token.IsKind(SyntaxKind.Utf8MultiLineRawStringLiteralToken)).Select(token => token.GetLocation());
        var interpolated = root.DescendantNodes().OfType<InterpolatedStringExpressionSyntax>()
            .Where(text => text.StringStartToken.IsKind(SyntaxKind.InterpolatedMultiLineRawStringStartToken))
            .Select(text => text.GetLocation());
        return literals.Concat(interpolated).Select(place => place.GetLineSpan())
            .SelectMany(
                span => Enumerable.Range(span.StartLinePosition.Line + 1, span.EndLinePosition.Line - span.StartLinePosition.Line - 1));
    }
}
