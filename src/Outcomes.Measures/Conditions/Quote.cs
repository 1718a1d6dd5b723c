namespace Outcomes.Measures.Conditions;

/// <summary>Names and texts as SQL writes them.</summary>
internal static class Quote
{
    public static string Name(string name) => "\"" + name.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    public static string Text(string text) => "'" + text.Replace("'", "''", StringComparison.Ordinal) + "'";

    public static string Names(IEnumerable<string> names) => string.Join(", ", names.Select(Name));
}
