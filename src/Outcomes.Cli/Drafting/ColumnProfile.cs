using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>One word of a column: how often it stands there, and the line where it stands first.</summary>
public readonly record struct WordCount(string Word, int Rows, int Line);

/// <summary>What one column of an export holds.</summary>
public sealed class ColumnProfile
{
    private static readonly Dictionary<string, MissingReason> Usual = new(StringComparer.OrdinalIgnoreCase)
    {
        ["not recorded"] = MissingReason.NotRecorded,
        ["nr"] = MissingReason.NotRecorded,
        ["n/r"] = MissingReason.NotRecorded,
        ["missing"] = MissingReason.NotRecorded,
        ["-"] = MissingReason.NotRecorded,
        ["--"] = MissingReason.NotRecorded,
        ["null"] = MissingReason.NotRecorded,
        ["not documented"] = MissingReason.NotRecorded,
        ["unknown"] = MissingReason.Unknown,
        ["not known"] = MissingReason.Unknown,
        ["nk"] = MissingReason.Unknown,
        ["n/k"] = MissingReason.Unknown,
        ["?"] = MissingReason.Unknown,
        ["n/a"] = MissingReason.NotApplicable,
        ["na"] = MissingReason.NotApplicable,
        ["not applicable"] = MissingReason.NotApplicable,
        ["withheld"] = MissingReason.Withheld,
        ["declined"] = MissingReason.Withheld,
        ["unrecordable"] = MissingReason.Unrecordable,
        ["not recordable"] = MissingReason.Unrecordable,
        ["unable to record"] = MissingReason.Unrecordable,
        ["unmeasurable"] = MissingReason.Unrecordable,
        ["not measurable"] = MissingReason.Unrecordable,
        ["not_recorded"] = MissingReason.NotRecorded,
        ["not_applicable"] = MissingReason.NotApplicable,
    };

    private ColumnProfile(string heading, IEnumerable<int> columns, IEnumerable<(string Cell, int Line)> cells, bool decimalComma)
    {
        (Heading, Columns) = (heading, [.. columns]);
        var words = new Dictionary<string, WordCount>(StringComparer.Ordinal);
        foreach (var (cell, line) in cells)
        {
            if (cell.Length == 0 || ErrorValues.Is(cell))
            {
                Blank++;
                continue;
            }

            words[cell] = words.TryGetValue(cell, out var seen) ? seen with { Rows = seen.Rows + 1 } : new WordCount(cell, 1, line);
        }

        Missing = [.. words.Values.Where(word => Usual.ContainsKey(word.Word)).Select(word => (word.Word, Usual[word.Word]))
            .OrderBy(pair => pair.Word, StringComparer.Ordinal)];
        Words = [.. words.Values.Where(word => !Usual.ContainsKey(word.Word)).OrderByDescending(word => word.Rows)
            .ThenBy(word => word.Word, StringComparer.Ordinal)];
        Filled = Words.Sum(word => word.Rows);
        Numbers = [.. Words.Select(word => (Read: decimalComma
            ? Strict.TryCommaNumber(Encoding.UTF8.GetBytes(word.Word), out var value)
            : Strict.TryNumber(Encoding.UTF8.GetBytes(word.Word), out value), value, word.Rows)).Where(number => number.Read)
            .Select(number => (number.value, number.Rows))];
    }

    public string Heading { get; }

    /// <summary>Places in the file, 0-based: one, or one for each attempt.</summary>
    public ImmutableArray<int> Columns { get; }

    /// <summary>Rows without a value: blank cells, and error values of a spreadsheet.</summary>
    public int Blank { get; }

    /// <summary>Rows with a value that is no missing token.</summary>
    public int Filled { get; }

    /// <summary>Distinct cells without missing tokens, most frequent first.</summary>
    public ImmutableArray<WordCount> Words { get; }

    /// <summary>Words that mean a missing value in any language of exports, and why.</summary>
    public ImmutableArray<(string Word, MissingReason Reason)> Missing { get; }

    /// <summary>Numbers among the cells, with their rows.</summary>
    public ImmutableArray<(double Value, int Rows)> Numbers { get; }

    /// <summary>True when the column could be a key: no row without a value, and hardly one repeats; a few may be corrections.</summary>
    public bool TellsRowsApart => Filled > 0 && Blank == 0 && Words.Length >= 0.9 * Filled;

    public int First => Columns[0];

    public string Letter => string.Create(CultureInfo.InvariantCulture, $"{First + 1}");

    public static ColumnProfile Of(ExportSample sample, string heading, params int[] columns) =>
        new(heading, columns, sample.Rows.SelectMany(row => columns.Select(column => (row.Cells[column], row.Line))), sample.DecimalComma);

    /// <summary>The share of filled rows whose word passes, 0 to 1.</summary>
    public double Share(Func<string, bool> test) =>
        Filled == 0 ? 0 : (double)Words.Where(word => test(word.Word)).Sum(word => word.Rows) / Filled;

    /// <summary>The words after cutting each cell at a separator; the separator is null where cells hold one value.</summary>
    public (char? Separator, ImmutableArray<WordCount> Parts) Split()
    {
        foreach (var separator in (char[])[';', '|', ',', '+', '/'])
        {
            if (!Words.Any(word => word.Word.Contains(separator, StringComparison.Ordinal))) continue;
            var parts = Words.SelectMany(word => word.Word.Split(separator,
                StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(part => word with { Word = part }))
                .GroupBy(part => part.Word)
                .Select(group => new WordCount(group.Key, group.Sum(part => part.Rows), group.Min(part => part.Line)))
                .OrderByDescending(part => part.Rows).ThenBy(part => part.Word, StringComparer.Ordinal).ToImmutableArray();
            if (parts.Length <= Math.Max(12, Words.Length)) return (separator, parts);
        }

        return (null, Words);
    }
}
