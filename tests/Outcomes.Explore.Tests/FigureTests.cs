using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Explore;

/// <summary>The figures of the page are those of the report, of the command line and of the SQL that it shows.</summary>
public sealed partial class FigureTests(ExploreProcess explore) : IClassFixture<ExploreProcess>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_unconditioned_question_gives_the_cells_of_the_reports_estimates()
    {
        await Tool("run", "pipelines/monthly.yaml", "--charts", "none", "--out", "out");
        var estimates = CsvTable.Read(explore.Folder, "out", "tables", "estimates.csv").Rows.ToArray();
        var compared = 0;
        foreach (var measure in new[] { "first_pass", "spo2_below_90", "hypotension", "checklist", "waveform_co2" })
            foreach (var by in new[] { "location_type", "hour_band", "device", "urgency" })
            {
                var answer = await Answer($"measure={measure}&from=2023-04&to=2026-03&by={by}");
                var wanted =
                    estimates.Where(row => row["measure"] == measure && (row["stratum"] == by || row["stratum"] == "all")).ToArray();
                Assert.Equal(wanted.Length, answer.Length);
                foreach (var (want, got) in wanted.Zip(answer))
                    Assert.Equal(want.Select(cell => (cell.Key, cell.Value)), got.Skip(1).Select(cell => (cell.Key, cell.Value)));
                compared += wanted.Length;
            }

        Assert.True(compared > 2_000, $"{compared} rows");
    }

    [Fact]
    public async Task The_reports_own_question_has_the_reports_figure_and_verdict()
    {
        await Tool("run", "pipelines/monthly.yaml", "--charts", "none", "--out", "again");
        var report = await File.ReadAllTextAsync(Path.Combine(explore.Folder, "again", "appendix.html"), Stop);
        var caption = Verdict().Match(report[report.IndexOf("id=\"m-first_pass\"", StringComparison.Ordinal)..]).Groups[1].Value;
        var page = await explore.Get("/?measure=first_pass");
        Assert.Contains($"<p class=\"words\">{caption}</p>", page, StringComparison.Ordinal);
        Assert.DoesNotContain(caption, await explore.Get("/?measure=first_pass&to=2026-02"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("measure=first_pass&among=age_years >= 60 and location_type = 'icu'&from=2023-04&by=device")]
    [InlineData("measure=first_pass&among=age_years >= 60&versus=not (age_years >= 60)&by=device,urgency&points=5")]
    [InlineData("measure=hypotension&from=2025-01&to=2025-06&versus_from=2025-07&versus_to=2025-12")]
    [InlineData("measure=lowest_saturation&by=location_type&from=2024-01")]
    public async Task The_command_gives_the_bytes_of_the_page(string question)
    {
        var query = Query(question);
        foreach (var format in new[] { "csv", "json" })
        {
            var result = await Tool("explore", "pipelines/monthly.yaml", "--ask", query, "--format", format);
            Assert.Equal(await explore.Get($"/answer.{format}?{query}"), result.Output);
        }
    }

    [Theory]
    [InlineData("measure=first_pass&among=age_years >= 60&from=2023-04")]
    [InlineData("measure=spo2_below_90&among=location_type = 'icu'&from=2023-04")]
    [InlineData("measure=checklist&from=2024-04&to=2025-03")]
    public async Task The_sql_that_is_shown_gives_the_counts(string question)
    {
        var page = await explore.Get("/?" + Query(question));
        var sql = WebUtility.HtmlDecode(Sql().Match(page).Groups[1].Value);
        await Tool("query", "pipelines/monthly.yaml", sql, "--format", "csv");
        var counted = (await Tool("query", "pipelines/monthly.yaml", sql, "--format", "csv")).Output.Split('\n')[1];
        var whole = (await Answer(question))[0];
        Assert.Equal($"{whole["met"]},{whole["eligible"]},{whole["missing"]}", counted);
        Assert.NotEqual("0", whole["eligible"]);
    }

    [Fact]
    public async Task Two_cohorts_that_share_records_are_not_compared()
    {
        var page = await explore.Get("/?" + Query("measure=first_pass&among=age_years >= 60&versus=age_years >= 40"));
        Assert.Contains("are in both cohorts, so they are not compared", page, StringComparison.Ordinal);
        Assert.DoesNotContain("percentage points (", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_difference_is_that_of_the_published_method_on_the_two_counts()
    {
        // Newcombe's method 10 (Stat Med 1998;17:873-890), from the counts beside it. Where months vary more than chance the
        // interval is wider.
        var methods = new List<string>();
        foreach (var measure in new[] { "first_pass", "hypotension", "spo2_below_90", "waveform_co2", "checklist" })
        {
            var json = JsonDocument.Parse(await explore.Get("/answer.json?" + Query(
                $"measure={measure}&among=age_years >= 60&versus=age_years < 60&from=2023-04"))).RootElement;
            var counts = json.GetProperty("cohorts").EnumerateArray()
                .Select(each => (Met: each.GetProperty("met").GetInt64(), Eligible: each.GetProperty("eligible").GetInt64())).ToArray();
            var comparison = json.GetProperty("comparison");
            var (lower, upper) = Newcombe(counts[0], counts[1]);
            methods.Add(comparison.GetProperty("method").GetString()!);
            Assert.Equal(0, comparison.GetProperty("shared").GetInt64());
            if (methods[^1] == "newcombe")
            {
                Assert.Equal(lower, comparison.GetProperty("lower").GetDouble(), 9);
                Assert.Equal(upper, comparison.GetProperty("upper").GetDouble(), 9);
            }
            else
            {
                Assert.InRange(comparison.GetProperty("lower").GetDouble(), -1, lower);
                Assert.InRange(comparison.GetProperty("upper").GetDouble(), upper, 1);
            }
        }

        Assert.Equal(["newcombe", "newcombe_varying_months"], methods.Distinct().Order());
    }

    [Fact]
    public async Task A_cohort_of_fewer_than_five_records_has_no_figure_anywhere()
    {
        var question = Query("measure=first_pass&among=age_years = 60&from=2025-01");
        Assert.Contains("too few for any figure", await explore.Get("/?" + question), StringComparison.Ordinal);
        Assert.Single((await explore.Get("/answer.csv?" + question)).Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.DoesNotContain("\"met\"", await explore.Get("/answer.json?" + question), StringComparison.Ordinal);
        Assert.Contains("too few for any figure", await explore.Get("/snapshot.html?" + question), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.BadRequest, (await explore.Client.GetAsync("/answer.svg?" + question, Stop)).StatusCode);
    }

    [Fact]
    public async Task Groups_are_not_shown_over_less_than_twelve_months()
    {
        var page = await explore.Get("/?measure=first_pass&from=2025-10&by=device");
        Assert.Contains("Groups are not shown over less than 12 months", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Videolaryngoscope</td>", page, StringComparison.Ordinal);
    }

    private async Task<IReadOnlyDictionary<string, string>[]> Answer(string question)
    {
        var path = Path.Combine(explore.Folder, Guid.NewGuid().ToString("N") + ".csv");
        await File.WriteAllTextAsync(path, await explore.Get("/answer.csv?" + Query(question)), Stop);
        return [.. CsvTable.Read(path).Rows];
    }

    private async Task<ToolResult> Tool(params string[] arguments)
    {
        var result = await ToolProcess.Run(explore.Folder, arguments);
        Assert.True(result.Exit == 0, result.ToString());
        return result;
    }

    private static string Query(string question) => string.Join('&', question.Split('&').Select(pair =>
        $"{pair.Split('=', 2)[0]}={Uri.EscapeDataString(pair.Split('=', 2)[1])}"));

    // Written here from the paper's formula, apart from the program's own.
    private static (double Lower, double Upper) Newcombe((long Met, long Eligible) one, (long Met, long Eligible) other)
    {
        const double z = 1.959963984540054;
        var (p1, p2) = (one.Met / (double)one.Eligible, other.Met / (double)other.Eligible);
        var ((l1, u1), (l2, u2)) = (Wilson(p1, one.Eligible), Wilson(p2, other.Eligible));
        return (p1 - p2 - Math.Sqrt(((p1 - l1) * (p1 - l1)) + ((u2 - p2) * (u2 - p2))),
            p1 - p2 + Math.Sqrt(((u1 - p1) * (u1 - p1)) + ((p2 - l2) * (p2 - l2))));

        static (double, double) Wilson(double p, double n)
        {
            var half = z * Math.Sqrt((p * (1 - p) / n) + (z * z / (4 * n * n)));
            return ((p + (z * z / (2 * n)) - half) / (1 + (z * z / n)), (p + (z * z / (2 * n)) + half) / (1 + (z * z / n)));
        }
    }

    [GeneratedRegex("<p class=\"words\">(.*?)</p>", RegexOptions.Singleline)]
    private static partial Regex Verdict();

    [GeneratedRegex("<dt>SQL</dt><dd><pre tabindex=\"0\"><code>(.*?)</code>", RegexOptions.Singleline)]
    private static partial Regex Sql();
}
