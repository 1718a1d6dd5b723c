namespace Outcomes.Records;

/// <summary>Suggests the known name that a wrong one was probably meant to be.</summary>
public static class Nearest
{
    /// <summary><c>; did you mean `x`?</c>, or nothing when no known name is close.</summary>
    public static string Suggest(string name, IEnumerable<string> known) => Of(name, known) is { } near ? $"; did you mean `{near}`?" : "";

    /// <summary>
    /// The nearest by edits of one letter, whatever its case, if at most a third of the letters differ; ties go to the first
    /// in ordinal order.
    /// </summary>
    public static string? Of(string name, IEnumerable<string> known) =>
        known.Select(candidate => (Candidate: candidate, Distance: Distance(name.ToUpperInvariant(), candidate.ToUpperInvariant())))
            .Where(pair => pair.Distance <= Math.Max(1, name.Length / 3))
            .OrderBy(pair => pair.Distance).ThenBy(pair => pair.Candidate, StringComparer.Ordinal)
            .FirstOrDefault().Candidate;

    // Edits of one letter (insert, delete, replace) that make one word the other.
    private static int Distance(string left, string right)
    {
        var row = Enumerable.Range(0, right.Length + 1).ToArray();
        for (var i = 1; i <= left.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= right.Length; j++)
            {
                var above = row[j];
                row[j] = Math.Min(Math.Min(above, row[j - 1]) + 1, diagonal + (left[i - 1] == right[j - 1] ? 0 : 1));
                diagonal = above;
            }
        }

        return row[right.Length];
    }
}
