namespace Outcomes.Measures.Conditions;

/// <summary>The known word that a misspelt one most likely meant.</summary>
internal static class Spelling
{
    /// <summary>The nearest by edit distance, if at most a third of its letters differ; ties go to the first in ordinal order.</summary>
    public static string? Nearest(string word, IEnumerable<string> known)
    {
        var (best, distance) = ((string?)null, int.MaxValue);
        foreach (var candidate in known.Order(StringComparer.Ordinal))
            if (Distance(word, candidate) is var d && d < distance)
                (best, distance) = (candidate, d);
        return distance <= Math.Max(1, word.Length / 3) ? best : null;
    }

    private static int Distance(string a, string b)
    {
        var row = Enumerable.Range(0, b.Length + 1).ToArray();
        for (var i = 1; i <= a.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var above = row[j];
                row[j] = Math.Min(Math.Min(above, row[j - 1]) + 1, diagonal + (char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]) ? 0 : 1));
                diagonal = above;
            }
        }

        return row[^1];
    }
}
