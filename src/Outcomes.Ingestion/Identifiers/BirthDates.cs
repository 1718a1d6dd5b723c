using System.Globalization;
using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Dates in the shape of a date of birth: a calendar date of the years 1900 to 1999 (no procedure is that old here), or any date
/// that follows words of birth. A date of this century without such words is far more often the day of an event, and passes; what a
/// column of them shows is asked by <see cref="BirthYears"/>.
/// </summary>
public static partial class BirthDates
{
    private static readonly System.Buffers.SearchValues<char> BirthLetters = System.Buffers.SearchValues.Create("bBnNfFsS");

    /// <summary>True when the text holds such a date.</summary>
    public static bool Find(ReadOnlySpan<char> text)
    {
        if (!MayBe(text)) return false;
        var any = false;
        foreach (var match in Shape().EnumerateMatches(text))
        {
            any = true;
            if (Year(text.Slice(match.Index, match.Length)) is var year and >= 1900 and < 2100
                && (year < 2000 || Words().IsMatch(text[..match.Index])))
                return true;
        }

        foreach (var match in Eight().EnumerateMatches(text))
            if (Compact(text.Slice(match.Index, match.Length)) is >= 1900 and < 2000)
                return true;
        // Forms that mean a date only when they are all there is, or where words say so.
        return (!any && !IsSixDigits(text) && YearOf(text) is >= 1900 and < 2000)
            || (text.ContainsAny(BirthLetters) && Announced().IsMatch(text));
    }

    /// <summary>
    /// The year of a cell that is a calendar date, with or without a time of day, in any common form; 0 for anything else.
    /// </summary>
    public static int YearOf(ReadOnlySpan<char> cell)
    {
        if (cell.Length is < 6 or > 40 || !MayBe(cell)) return 0;
        var match = Clock().EnumerateMatches(cell);
        var date = match.MoveNext() ? cell[..match.Current.Index] : cell;
        var day = StartingDay().EnumerateMatches(date);
        if (day.MoveNext()) date = date[day.Current.Length..];
        foreach (var whole in Shape().EnumerateMatches(date))
            if (whole.Index == 0 && whole.Length == date.Length)
                return Year(date) is >= 1880 and < 2100 and var year ? year : 0;
        foreach (var whole in Loose().EnumerateMatches(date))
            if (whole.Length == date.Length)
                return Year(date) is >= 1880 and < 2100 and var year ? year : 0;
        // A month and a year, without a day: 03/1961, 1961-03, Mar 1961.
        if (MonthOfYear().IsMatch(date)) return Year(date) is >= 1880 and < 2100 and var year ? year : 0;
        return Compact(date);
    }

    /// <summary>The month of a cell that <see cref="YearOf"/> reads, 1 to 12; 6 where it cannot be told.</summary>
    public static int MonthOf(ReadOnlySpan<char> cell)
    {
        for (var i = 0; i + 2 < cell.Length; i++)
            if (char.IsLetter(cell[i]) && (i == 0 || !char.IsLetter(cell[i - 1])) && NamedMonth(cell[i..]) is var named and > 0)
                return named;
        Span<int> numbers = stackalloc int[3];
        var (count, length) = (0, 0);
        foreach (var c in cell)
        {
            if (char.IsAsciiDigit(c)) numbers[count] = length++ == 0 ? c - '0' : Math.Min(99_999_999, (numbers[count] * 10) + c - '0');
            else if (length > 0 && (length = 0) == 0 && ++count == 3) break;
        }

        if (length > 0) count++;
        var month = count switch
        {
            1 => numbers[0] > 999_999 && numbers[0] / 10_000 is > 1880 and < 2100
                ? numbers[0] / 100 % 100
                : numbers[0] / (numbers[0] > 999_999 ? 10_000 : 100) % 100,
            2 => Math.Min(numbers[0], numbers[1]),
            _ => numbers[1] > 12 ? numbers[0] : numbers[1],
        };
        return month is >= 1 and <= 12 ? month : 6;
    }

    // Cheap, and right for most cells: no date is without a digit, nor one word with a letter or two, as keys and codes are.
    private static bool MayBe(ReadOnlySpan<char> text)
    {
        int digits = 0, letters = 0;
        foreach (var c in text)
            if (char.IsAsciiDigit(c)) digits++;
            else if (char.IsLetter(c)) letters++;
        return digits > 0 && (letters is 0 or >= 3 || digits + letters < text.Length);
    }

    // The first three letters tell the month in ten languages, but for the French June and July.
    private static int NamedMonth(ReadOnlySpan<char> word)
    {
        const string names =
            "jan1 ene1 gen1 jän1 tam1 feb2 fév2 hel2 mar3 mär3 mrz3 mrt3 maa3 apr4 abr4 avr4 huh4 may5 mai5 maj5 mei5 mag5 tou5 jun6 "
                + "giu6 kes6 jul7 lug7 hei7 aug8 aoû8 ago8 elo8 sep9 set9 syy9 octA oktA ottA lokA novB decC dezC dicC desC décC jouC";
        Span<char> three = stackalloc char[3];
        word[..3].ToLowerInvariant(three);
        // Finland's November begins as March does elsewhere.
        if (word.StartsWith("marras", StringComparison.OrdinalIgnoreCase)) return 11;
        if (three.SequenceEqual("jui")) return word.Length > 3 && word[3] is 'n' or 'N' ? 6 : 7;
        var at = names.AsSpan().IndexOf(three);
        return at < 0 || at % 5 != 0 ? 0 : names[at + 3] is var month && char.IsAsciiDigit(month) ? month - '0' : month - 'A' + 10;
    }

    // 12031961 and 19610312: eight digits, a day, a month and a year of the last hundred years or so; or six, with two for the year.
    private static int Compact(ReadOnlySpan<char> cell)
    {
        if (cell.Length is not (6 or 8) || cell.ContainsAnyExceptInRange('0', '9')) return 0;
        var number = int.Parse(cell, NumberStyles.None, CultureInfo.InvariantCulture);
        if (cell.Length == 6)
            return IsDay(Century(number % 100), number / 10_000, number / 100 % 100) ? Century(number % 100)
                : IsDay(Century(number / 10_000), number % 100, number / 100 % 100) ? Century(number / 10_000)
                : 0;
        return IsDay(number % 10_000, number / 1_000_000, number / 10_000 % 100) ? number % 10_000
            : IsDay(number / 10_000, number % 100, number / 100 % 100) ? number / 10_000
            : 0;
    }

    // One in 27 numbers of six digits is a date: a column of them says something, a cell nothing.
    private static bool IsSixDigits(ReadOnlySpan<char> text) => text.Length == 6 && !text.ContainsAnyExceptInRange('0', '9');

    private static int Century(int year) => year > 30 ? 1900 + year : 2000 + year;

    private static bool IsDay(int year, int day, int month) =>
        year is >= 1900 and < 2100 && month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month);

    // The last number is the year, unless the first is longer; two digits from 31 on are of the last century.
    private static int Year(ReadOnlySpan<char> date)
    {
        var first = date.IndexOfAnyExceptInRange('0', '9');
        var last = date.LastIndexOfAnyExceptInRange('0', '9') + 1;
        var written = first == 4 ? date[..4] : date[last..];
        var year = int.Parse(written, NumberStyles.None, CultureInfo.InvariantCulture);
        return written.Length == 4 ? year : Century(year);
    }

    private const string BirthWords = "geb|geboren|geburtsdatum|n[ée]e?|nacid[oa]|nat[oa]|geboortedatum|född|født|fødd|syntynyt|synt";

    private const string Weekday = "(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]{0,6}[ ,]{1,2}";

    private const string Month = "(?:Jan|Feb|Mar|Apr|May|June?|July?|Aug|Sept?|Oct|Nov|Dec|Jän|Mär|Mrz|Mai|Maj|Okt|Dez|Janv|Fév|Avr|Juin|"
        + "Juil|Aoû|Déc|Ene|Abr|Ago|Set|Dic|Gen|Mag|Giu|Lug|Ott|Mrt|Maa|Mei|Des|tammi|helmi|huhti|touko|kesä|heinä|elo|syys|loka|marras|"
        + "joulu)\\p{L}{0,7}";

    [GeneratedRegex(@"(?<![\w.])(?:(?:0?[1-9]|[12]\d|3[01])(?:st|nd|rd|th)?(?: "
        + @"of)?[ /.-](?:(?:0?[1-9]|1[0-2])[ /.-]\d{4}|(?:0[1-9]|1[0-2])[/.-]\d{2}|" + Month
        + @"\.?[ /.,-]{1,2}(?:\d{4}|\d{2}))|(?:0?[1-9]|1[0-2])/(?:1[3-9]|2\d|3[01])/\d{4}|(?:0?[1-9]|[12]\d|3[01])" + Month
        + @"\d{4}|" + Month + @"[ -]\d{1,2}(?:st|nd|rd|th)?[, -]{1,2}\d{4}|(?:19|20)\d\d[ /.-](?:0[1-9]|1[0-2]|" + Month
        + @")[ /.-](?:0[1-9]|[12]\d|3[01])|(?:19|20)\d\d[/.-](?:[1-9]|1[0-2])[/.-](?:[1-9]|[12]\d|3[01]))(?![\d]|[/.-]\d)",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Shape();

    // One digit for the month beside two for the year, blanks between two-digit numbers, no separator before the month's name.
    [GeneratedRegex("^(?:(?:0?[1-9]|[12]\\d|3[01])[/.-](?:0?[1-9]|1[0-2])[/.-]\\d{2}|(?:0?[1-9]|1[0-2])/(?:1[3-9]|2\\d|3[01])/\\d{2}|"
        + "(?:0?[1-9]|[12]\\d|3[01])" + Month + "(?:\\d{4}|\\d{2}))$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Loose();

    [GeneratedRegex(@"^(?:(?:0?[1-9]|1[0-2])[/.-](?:19|20)\d\d|(?:19|20)\d\d[/.-](?:0?[1-9]|1[0-2])|" + Month
        + @"\.?[ /.-]{1,2}(?:19|20)\d\d)$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex MonthOfYear();

    [GeneratedRegex(@"(?<![\w.-])\d{8}(?![\w-]|\.\d)")]
    private static partial Regex Eight();

    // "DOB 3.4.12", "dob:03042012", "born 3Apr2012", "b. 3 April 2012"
    [GeneratedRegex(@"(?:\b(?:d\.?o\.?b\b\.?|born|birth(?:day|date)?|" + BirthWords
        + @")(?: on| is| am| le| el| il| op)?|(?-i:(?<!\w)(?<![Pp]lan )b\.))\W{0,3}(?:" + Weekday
        + @")?(?:\d{8}(?!\d)|\d{1,2}[ /.-](?:\d{1,2}|" + Month + @")[ /.-]\d{2}|\d{1,2}" + Month + @"\d{2}|\d{4}[/.-]\d{1,2}[/.-]\d{1,2}|"
        + Month + @" \d{1,2},? \d{4})", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Announced();

    [GeneratedRegex("^" + Weekday, RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex StartingDay();

    [GeneratedRegex(@"(?: |T)\d{1,2}:\d{2}(?::\d{2}(?:\.\d{1,7})?)?(?: ?[AaPp][Mm]|Z)?$")]
    private static partial Regex Clock();

    [GeneratedRegex(@"\b(?:d\.?o\.?b|born|birth(?:day|date)?|date of birth|" + BirthWords + @")\b.{0,12}$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Words();
}
