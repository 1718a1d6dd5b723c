using System.Collections.Immutable;

namespace Outcomes.Analysis;

/// <summary>How many records have a value of a field, out of how many.</summary>
/// <param name="Field">Its name in conditions and tables.</param>
/// <param name="Title">Its heading for people.</param>
/// <param name="Known">Records with a value.</param>
/// <param name="Of">Accepted records asked.</param>
/// <param name="Collected">False when no source collects it.</param>
public sealed record FieldCompleteness(string Field, string Title, long Known, long Of, bool Collected = true)
{
    /// <summary>Each core field, and each other field that some source collects.</summary>
    public static ImmutableArray<FieldCompleteness> All(DataState data)
    {
        var known = data.Completeness.ToDictionary(row => row.Field);
        return
        [
            .. data.Fields.Where(field => field.Core || known.ContainsKey(field.Name))
                .Select(field => known.TryGetValue(field.Name, out var row)
                    ? new FieldCompleteness(field.Name, field.Title, row.Known, row.Records)
                    : new FieldCompleteness(field.Name, field.Title, 0, 0, Collected: false)),
        ];
    }
}
