using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Cli.Drafting;

/// <summary>
/// Columns that a mapping is never drafted for: they name a person, or look as if they did. What refuses a file when it is read refuses the
/// column here, by the same detectors; a draft is warier still, for nobody has looked at the export yet. It says why, and
/// never shows a cell.
/// </summary>
public static partial class Suspicion
{
    // Of a column, not of a cell: a few cells of these are made missing when the file is read.
    private const double Many = 0.3;
    private const int FewestNumbers = 5;

    private static readonly string[] Alone =
        [
            "surname", "forename", "dob", "birth", "nhs", "chi", "mrn", "postcode", "phone", "telephone", "mobile", "email", "address",
            "gmc", "nmc", "initials", "payroll"
        ];

    private static readonly string[] People =
    [
        "patient", "pt", "staff", "operator", "doctor", "consultant", "nurse", "hospital", "hosp", "assistant", "recorder"
    ];
    private static readonly string[] Marks = ["name", "number", "no", "num", "id"];

    /// <summary>Why the column is refused; null where nothing speaks against it.</summary>
    public static string? Of(ColumnProfile column, Vocabulary vocabulary)
    {
        var words = Word().Matches(column.Heading.ToLowerInvariant()).Select(match => match.Value).ToArray();
        if (ShownName.Trips(column.Heading) || (ShownName.Hides(column.Heading) && !vocabulary.Knows(column.Heading)))
            return "its heading is an identifier of a person";
        // A column that only says yes or no, or when, says so whatever its heading.
        var heading = HeaderScreen.KindOf(column.Heading);
        if (heading < HeadingKind.Direct && !HeaderScreen.SpeaksOfAnAct(column.Heading)
            && (words.Any(Alone.Contains) || (words.Any(People.Contains) && words.Any(Marks.Contains)))) heading = HeadingKind.Direct;
        if (heading != HeadingKind.Other && (heading != HeadingKind.Person || !column.TellsRowsApart)
            && (column.Filled == 0 ? heading >= HeadingKind.Direct
                : column.Words.Any(word => HeaderScreen.Betrays(heading, System.Text.Encoding.UTF8.GetBytes(word.Word)))))
            return "its heading names an identifier of a person";
        if (column.Filled == 0) return null;
        if (ByDetectors(column) is { } kind) return $"it holds what looks like {IdentifierRules.What(IdentifierRules.Of(kind))}";
        var differ = (double)column.Words.Length / column.Filled;
        if (column.Words.Length >= 10 && column.Share(cell => LooksLikeName(cell, vocabulary)) >= 0.5) return "its cells look like names";
        if (differ >= 0.5 && column.Share(cell => LongNumber().IsMatch(cell)) >= 0.8 && !IsRunning(column))
            return "its cells have the shape of hospital numbers";
        return differ >= 0.3 && column.Words.Length >= 5 && column.Share(cell => cell.Count(c => c == ' ') >= 5) >= 0.3
            ? "it is free text"
            : null;
    }

    /// <summary>True for words that may be written into a draft: no long number, no name, nothing that points at somebody.</summary>
    public static bool MayShow(string word, Vocabulary vocabulary) =>
        word.Length <= 60 && !SixDigits().IsMatch(word) && Detect.In(word) == Identifier.None && !LooksLikeName(word, vocabulary);

    // One cell of what refuses a file, where a column of keys is asked less; ten-digit numbers and everything else by their share, as
    // chance finds a few in any column.
    private static Identifier? ByDetectors(ColumnProfile column)
    {
        var rows = new Dictionary<Identifier, int>();
        var refusing = Identifier.None;
        foreach (var word in column.Words)
        {
            var found = Detect.In(word.Word);
            refusing |= column.TellsRowsApart ? Detect.In(word.Word, IdentifierSets.OfKeys) : found;
            for (var kind = Identifier.NhsForm; kind <= Identifier.Registration; kind = (Identifier)((int)kind << 1))
                if ((found & kind) != 0) rows[kind] = rows.GetValueOrDefault(kind) + word.Rows;
        }

        foreach (var kind in rows.Keys.Where(kind => (kind & refusing & IdentifierSets.Refusing) != 0).Order()) return kind;
        var passing = rows.Where(pair => (pair.Key & IdentifierSets.Passing) != 0).Sum(pair => pair.Value);
        if (rows.GetValueOrDefault(Identifier.TenDigits) is var numbers && numbers >= FewestNumbers && passing > Many * numbers)
            return rows.Keys.Where(kind => (kind & IdentifierSets.Passing) != 0).Min();
        return rows.Where(pair => pair.Key != Identifier.TenDigits && pair.Value >= Many * column.Filled
            && !(pair.Key == Identifier.HospitalNumber && IsRunning(column)))
            .Select(pair => (Identifier?)pair.Key).Order().FirstOrDefault();
    }

    // Numbers given one after the other are a register's own; those of a hospital's patients lie far apart.
    private static bool IsRunning(ColumnProfile column)
    {
        long[] numbers = [.. column.Words.Select(word => long.TryParse(word.Word.Where(char.IsAsciiDigit).ToArray(), NumberStyles.None,
            CultureInfo.InvariantCulture, out var number) ? number : -1)];
        return numbers.Min() >= 0 && numbers.Max() - numbers.Min() < 3 * numbers.Length;
    }

    private static bool LooksLikeName(string text, Vocabulary vocabulary) => Name().IsMatch(text) && !vocabulary.Knows(text);

    [GeneratedRegex(@"[a-z]+")]
    private static partial Regex Word();

    [GeneratedRegex(
        @"^\p{Lu}[\p{Ll}'-]+[ ,]+\p{Lu}[\p{L}'-]*( \p{Lu}[\p{L}'-]+)?$|^\p{Lu}\.? ?\p{Lu}[\p{Ll}'-]+$|^\p{Lu}[\p{Ll}'-]+ \p{Lu}\.?$")]
    private static partial Regex Name();

    [GeneratedRegex(@"^[A-Za-z]{0,2}\d{6,10}[A-Za-z]?$")]
    private static partial Regex LongNumber();

    [GeneratedRegex(@"\d{6}")]
    private static partial Regex SixDigits();
}
