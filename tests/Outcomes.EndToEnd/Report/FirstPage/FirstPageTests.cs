using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Each figure of the demonstration's first page is worked out anew from its tables, which other tests check against their sources.
/// </summary>
public sealed partial class FirstPageTests(DemoRun demo) : IClassFixture<DemoRun>
{
    [Fact]
    public async Task Every_row_and_statement_follows_from_the_tables_beside_it()
    {
        var page = WebUtility.HtmlDecode(await File.ReadAllTextAsync(demo["report.html"], TestContext.Current.CancellationToken))
            .Replace('\u00a0', ' ');
        var first = page[page.IndexOf("<section class=\"side\"", StringComparison.Ordinal)..];
        first = first[..first.IndexOf("</section>", StringComparison.Ordinal)];
        var counts = CsvTable.Read(demo["tables", "counts.csv"]).Rows.Where(row => row["stratum"] == "all").ToArray();

        var years = CsvTable.Read(demo["tables", "year.csv"]).Rows.ToDictionary(row => row["measure"]);
        var rows = Row().Matches(first);
        Assert.Equal(6, rows.Count);
        foreach (var row in rows.Cast<Match>())
        {
            var id = row.Groups["id"].Value;
            Assert.Equal(Fraction(Sum(counts, id, "2026-03", "2026-03")), row.Groups["month"].Value);
            var year = Sum(counts, id, "2025-04", "2026-03");
            var (lower, upper) = Wilson(year.Met, year.Eligible);
            var printed = years[id];
            Assert.Equal(lower, Number(printed["plain_lower"]), 1e-9);
            Assert.Equal(upper, Number(printed["plain_upper"]), 1e-9);
            // Where months vary more than chance the wider interval is printed, and a star says so.
            var star = Number(printed["dispersion"]) > 1 ? "*" : "";
            if (star.Length > 0)
                (lower, upper) = (Math.Min(lower, Number(printed["lower"])), Math.Max(upper, Number(printed["upper"])));
            Assert.Equal($"{Fraction(year)}, {Percent(year.Met / (double)year.Eligible)} % ({Percent(lower)} to {Percent(upper)} %){star}",
                row.Groups["year"].Value.Split(';')[0]);
        }

        // What changed stands in the sentence of its verdict, and what did not is named.
        var verdicts = CsvTable.Read(demo["tables", "verdicts.csv"]).Rows.ToArray();
        Assert.All(verdicts.Where(row => row["changed_about"].Length > 0 || row["difference"].Length > 0),
            row => Assert.Contains(row["sentence"], first, StringComparison.Ordinal));
        Assert.Equal(5, verdicts.Count(row => row["label"] == "no_sign_of_change"));
        Assert.Contains("Five other headline measures show no sign of change.", first, StringComparison.Ordinal);

        // The one planned evaluation of the declared change: twelve whole months on each side.
        var helped = Helped().Match(first);
        Assert.True(helped.Success, first);
        Assert.Equal(Fraction(Sum(counts, "first_pass", "2024-01", "2024-12")), helped.Groups["before"].Value);
        Assert.Equal(Fraction(Sum(counts, "first_pass", "2025-01", "2025-12")), helped.Groups["after"].Value);
    }

    // With case mix, rare events, control charts and sections: what the random departments of OneVerdictTests have none of.
    [Fact]
    public void No_sentence_outside_the_verdicts_says_that_a_measure_changed()
    {
        // Methods, cautions and definitions tell how the report is made, whatever it says.
        var page = WebUtility.HtmlDecode(Tag().Replace(
            General().Replace(File.ReadAllText(demo["report.html"]) + File.ReadAllText(demo["appendix.html"]), ""), " "));
        var text = CsvTable.Read(demo["tables", "verdicts.csv"]).Rows.SelectMany(row => new[] { row["sentence"], row["caution_sentence"] })
            .Where(said => said.Length > 0).OrderByDescending(said => said.Length)
            .Aggregate(page.Replace('\u00a0', ' '), (left, said) => left.Replace(said, "", StringComparison.Ordinal));
        Assert.False(OfChange().IsMatch(text), OfChange().Match(text).Value);
    }

    private static (long Met, long Eligible) Sum(
        IEnumerable<IReadOnlyDictionary<string, string>> counts, string measure, string from, string to)
    {
        var months = counts.Where(row => row["measure"] == measure && row["period"].Length == 7
            && string.CompareOrdinal(row["period"], from) >= 0 && string.CompareOrdinal(row["period"], to) <= 0).ToArray();
        return (months.Sum(row => Whole(row["met"])), months.Sum(row => Whole(row["eligible"])));
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static long Whole(string cell) => long.Parse(cell, CultureInfo.InvariantCulture);

    private static string Fraction((long Met, long Eligible) count) => $"{count.Met}/{count.Eligible}";

    private static string Percent(double share) => (share * 100).ToString("0.0", CultureInfo.InvariantCulture);

    // Wilson EB. J Am Stat Assoc 1927;22:209-12, written out here once more.
    private static (double Lower, double Upper) Wilson(double met, double n)
    {
        const double Z = 1.959963984540054;
        var middle = (met + (Z * Z / 2)) / (n + (Z * Z));
        var half = Z / (n + (Z * Z)) * Math.Sqrt((met * (n - met) / n) + (Z * Z / 4));
        return (middle - half, middle + half);
    }

    [GeneratedRegex(
        "improved|got (better|worse)|has (changed|improved|fallen|risen|probably)|looks (better|worse|higher|lower)|signal of change"
            + "|change signal|[Mm]ore often than in|[Ll]ess often than in|[Oo]utside the limits:|reached its limit")]
    private static partial Regex OfChange();

    [GeneratedRegex("""<section (class="side" )?aria-labelledby="(methods|cautions|definitions|data)".*?</section>|<style.*?</style>""",
        RegexOptions.Singleline)]
    private static partial Regex General();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();

    [GeneratedRegex(
        """<th scope="row"><a href="appendix.html#m-(?<id>[a-z0-9_-]+)">.*?<td class="n">(?<month>[^<]+)</td><td>(?<year>[^<]+)""",
        RegexOptions.Singleline)]
    private static partial Regex Row();

    [GeneratedRegex(
        @"First-pass success improved after the change of 1 January 2025: (?<after>[0-9/]+) \([0-9.]+ %\), "
            + @"before (?<before>[0-9/]+) \([0-9.]+ %\);")]
    private static partial Regex Helped();
}
