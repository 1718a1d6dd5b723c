using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>What people read for a field or derived column, and for its values.</summary>
/// <param name="Dictionary">The fields of this run.</param>
public sealed record Titles(FieldDictionary Dictionary)
{
    /// <summary>The heading of a field or derived column, such as "Location" for <c>location_type</c>.</summary>
    public string Column(string name) =>
        (Dictionary.Find(FieldDictionary.Procedure, name) ?? Dictionary.Find(FieldDictionary.Attempt, name))?.Title ?? Plain(name);

    /// <summary>A value as people read it, such as "Intensive care" for <c>icu</c>.</summary>
    public string Value(string column, string value)
    {
        ArgumentNullException.ThrowIfNull(column);
        ArgumentNullException.ThrowIfNull(value);
        return Plain(value);
    }

    private static string Plain(string code) => code.Replace('_', ' ');
}
