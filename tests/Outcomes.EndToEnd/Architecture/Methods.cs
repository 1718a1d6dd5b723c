using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>
/// The size of what runs: methods, local functions, constructors, operators and accessors, with block or expression. Statements
/// outside any type are one method.
/// </summary>
internal static class Methods
{
    /// <summary>
    /// Those with more lines than <paramref name="most"/>, from the line of the name's declaration to its last; attributes are no lines.
    /// </summary>
    public static IEnumerable<Violation> TooLong(SourceFile file, int most) =>
        from part in Parts(file)
        let lines = file.LineOf(part.End - 1) - file.LineOf(part.Start) + 1
        where lines > most
        select new Violation(file.Path, file.LineOf(part.Start), $"{part.Name} has {lines} lines");

    /// <summary>
    /// Those with more parameters than <paramref name="most"/>. A record's primary constructor is a list of data and not counted; that of
    /// a class or struct is.
    /// </summary>
    public static IEnumerable<Violation> TooManyParameters(SourceFile file, int most) =>
        from list in file.Tree.GetRoot().DescendantNodes().OfType<BaseParameterListSyntax>()
        where list.Parameters.Count > most && IsCounted(list.Parent!)
        select new Violation(file.Path, file.LineOf(list.Parent!), $"{NameOf(list.Parent!)} has {list.Parameters.Count} parameters");

    private static bool IsCounted(SyntaxNode owner) => owner is BaseMethodDeclarationSyntax or LocalFunctionStatementSyntax
        or IndexerDeclarationSyntax or ClassDeclarationSyntax or StructDeclarationSyntax;

    private static IEnumerable<(string Name, int Start, int End)> Parts(SourceFile file)
    {
        var root = file.Tree.GetRoot();
        foreach (var node in root.DescendantNodes().Where(node => node is BaseMethodDeclarationSyntax or LocalFunctionStatementSyntax
            or AccessorDeclarationSyntax or BasePropertyDeclarationSyntax { AccessorList: null }))
            yield return (NameOf(node), Start(node), node.Span.End);
        if (root.ChildNodes().OfType<GlobalStatementSyntax>().ToList() is { Count: > 0 } statements)
            yield return ("the program", statements[0].SpanStart, statements[^1].Span.End);
    }

    private static int Start(SyntaxNode node)
    {
        var attributes = node.ChildNodes().OfType<AttributeListSyntax>().LastOrDefault();
        return attributes is null ? node.SpanStart : attributes.GetLastToken().GetNextToken().SpanStart;
    }

    private static string NameOf(SyntaxNode node) => node switch
    {
        MethodDeclarationSyntax method => method.Identifier.Text,
        LocalFunctionStatementSyntax local => local.Identifier.Text,
        ConstructorDeclarationSyntax constructor => $"the constructor of {constructor.Identifier.Text}",
        TypeDeclarationSyntax type => $"the constructor of {type.Identifier.Text}",
        AccessorDeclarationSyntax accessor => $"{NameOf(accessor.Parent!.Parent!)}.{accessor.Keyword.Text}",
        PropertyDeclarationSyntax property => property.Identifier.Text,
        EventDeclarationSyntax happening => happening.Identifier.Text,
        IndexerDeclarationSyntax => "the indexer",
        OperatorDeclarationSyntax sign => $"operator {sign.OperatorToken.Text}",
        ConversionOperatorDeclarationSyntax conversion => $"the conversion to {conversion.Type}",
        _ => node.Kind().ToString(),
    };
}
