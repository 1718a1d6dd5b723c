using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Cli.Drafting;

/// <summary>Columns that a mapping is never drafted for: they name a person, or look as if they did. It says why, and never shows a cell.</summary>
public static partial class Suspicion
{
    private static readonly string[] Alone =
        ["surname", "forename", "dob", "birth", "nhs", "chi", "mrn", "postcode", "phone", "telephone", "mobile", "email", "address", "gmc", "nmc", "initials", "payroll"];

    private static readonly string[] People = ["patient", "staff", "operator", "doctor", "consultant", "nurse", "hospital", "assistant", "recorder"];
    private static readonly string[] Marks = ["name", "number", "no", "num", "id"];

    /// <summary>Why the column is refused; null where nothing speaks against it.</summary>
    public static string? Of(ColumnProfile column, Vocabulary vocabulary)
    {
        var words = Word().Matches(column.Heading.ToLowerInvariant()).Select(match => match.Value).ToArray();
        if (HeaderScreen.NamesAnIdentifier(column.Heading) || words.Any(Alone.Contains) || (words.Any(People.Contains) && words.Any(Marks.Contains)))
            return "its heading names an identifier of a person";
        if (column.Filled == 0) return null;
        if (column.Share(IsHealthNumber) >= 0.5) return "its cells look like NHS numbers";
        if (column.Share(cell => cell.Contains('@', StringComparison.Ordinal)) >= 0.2) return "its cells look like e-mail addresses";
        if (column.Share(cell => Postcode().IsMatch(cell)) >= 0.3) return "its cells look like postcodes";
        if (column.Share(cell => Titled().IsMatch(cell)) >= 0.3) return "its cells look like names";
        var differ = (double)column.Words.Length / column.Filled;
        if (column.Words.Length >= 10 && column.Share(cell => LooksLikeName(cell, vocabulary)) >= 0.5) return "its cells look like names";
        if (differ >= 0.5 && column.Share(cell => LongNumber().IsMatch(cell)) >= 0.8 && !IsRunning(column)) return "its cells have the shape of hospital numbers";
        return differ >= 0.3 && column.Words.Length >= 5 && column.Share(cell => cell.Count(c => c == ' ') >= 5) >= 0.3 ? "it is free text" : null;
    }

    /// <summary>True for words that may be written into a draft: no long number, no name, nothing that points at somebody.</summary>
    public static bool MayShow(string word, Vocabulary vocabulary) =>
        word.Length <= 60 && !SixDigits().IsMatch(word) && !word.Contains('@', StringComparison.Ordinal) && !Titled().IsMatch(word) && !Postcode().IsMatch(word) && !LooksLikeName(word, vocabulary);

    // Numbers given one after the other are a register's own; those of a hospital's patients lie far apart.
    private static bool IsRunning(ColumnProfile column)
    {
        long[] numbers = [.. column.Words.Select(word => long.TryParse(word.Word.Where(char.IsAsciiDigit).ToArray(), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : -1)];
        return numbers.Min() >= 0 && numbers.Max() - numbers.Min() < 3 * numbers.Length;
    }

    private static bool LooksLikeName(string text, Vocabulary vocabulary) => Name().IsMatch(text) && !vocabulary.Knows(text);

    private static bool IsHealthNumber(string cell) => HealthNumber().IsMatch(cell) && TenDigits.Pass(Encoding.ASCII.GetBytes(cell.Where(char.IsAsciiDigit).ToArray()));

    [GeneratedRegex(@"[a-z]+")]
    private static partial Regex Word();

    [GeneratedRegex(@"^\d{3}[ -]?\d{3}[ -]?\d{4}$")]
    private static partial Regex HealthNumber();

    [GeneratedRegex(@"^[A-Za-z]{1,2}\d[A-Za-z\d]? ?\d[A-Za-z]{2}$")]
    private static partial Regex Postcode();

    [GeneratedRegex(@"\b(Mr|Mrs|Ms|Miss|Dr|Prof|Sister|Sr)\.? +\p{Lu}")]
    private static partial Regex Titled();

    [GeneratedRegex(@"^\p{Lu}[\p{Ll}'-]+[ ,]+\p{Lu}[\p{L}'-]*( \p{Lu}[\p{L}'-]+)?$|^\p{Lu}\.? ?\p{Lu}[\p{Ll}'-]+$|^\p{Lu}[\p{Ll}'-]+ \p{Lu}\.?$")]
    private static partial Regex Name();

    [GeneratedRegex(@"^[A-Za-z]{0,2}\d{6,10}[A-Za-z]?$")]
    private static partial Regex LongNumber();

    [GeneratedRegex(@"\d{6}")]
    private static partial Regex SixDigits();
}
