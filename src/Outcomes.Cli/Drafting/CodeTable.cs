using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>One word of a coded column.</summary>
/// <param name="Word">The word and its rows.</param>
/// <param name="Value">The allowed value it stands for; null when that is not clear.</param>
public sealed record CodeWord(WordCount Word, string? Value);

/// <summary>The words of a coded column and what they stand for.</summary>
/// <param name="Separator">What separates values in one cell; null where a cell holds one.</param>
/// <param name="Words">The words, most frequent first.</param>
/// <param name="Fit">Share of their rows whose meaning is clear, 0 to 1.</param>
public sealed record CodeTable(char? Separator, ImmutableArray<CodeWord> Words, double Fit)
{
    /// <summary>Above this many different words a column is no code list, and none of them is shown.</summary>
    public const int MostWords = 30;

    /// <summary>A word seen in fewer rows is not shown: a rare word may be a slip, and may be about one patient.</summary>
    public const int FewestRows = 3;

    public bool IsNumbered => Words.Length > 0 && Words.All(word => word.Word.Word.Length <= 2 && word.Word.Word.All(char.IsAsciiDigit));

    public static CodeTable Of(ColumnProfile column, Field field, Vocabulary vocabulary)
    {
        var (separator, parts) = field.Type == FieldType.Set ? column.Split() : (null, column.Words);
        if (parts.Length > MostWords) return new CodeTable(separator, [], 0);
        var legend = Headings.Legend(column.Heading);
        var zeroOrOne = parts.All(part => !part.Word.All(char.IsAsciiDigit) || part.Word is "0" or "1");
        var words =
            parts.Select(part => new CodeWord(part, legend.TryGetValue(part.Word, out var meaning) ? vocabulary.Value(meaning, field)
                : field.Type == FieldType.YesNo && !zeroOrOne && part.Word.All(char.IsAsciiDigit) ? null
                : vocabulary.Value(part.Word, field))).ToImmutableArray();
        var rows = words.Sum(word => word.Word.Rows);
        return new CodeTable(separator, words,
            rows == 0 ? 0 : (double)words.Where(word => word.Value is not null).Sum(word => word.Word.Rows) / rows);
    }
}
