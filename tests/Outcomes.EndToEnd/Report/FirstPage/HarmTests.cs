using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Harm is counted in every record, whoever the patient; counted here by hand.</summary>
public sealed class HarmTests : IDisposable
{
    private const string Pipeline = """
        name: harm
        as_of: 2026-02-01
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        headline: [first_pass]
        baseline: {from: 2024-01, months: 12}

        """;

    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          urgency: {column: urgency}
          age_years: {column: age}
          cardiac_arrest_before: {column: arrest before}
          cardiac_arrest_peri: {column: arrest}
          death_24h: {column: dead}
          oesophageal: {column: oesophagus}
          complication: {column: complications, split: ";"}
          final_airway: {column: airway}
        constants: {attempts_total: 1}

        """;

    // The report month, 11 months before it, and 12 months before those; the last row lies outside all three.
    private const string Rows = """
        id,day,urgency,age,arrest before,arrest,dead,oesophagus,complications,airway
        adult,2026-01-03,emergency,60,no,yes,no,none,none,tube
        child,2026-01-04,emergency,4,no,yes,no,delayed,none,tube
        planned,2026-01-05,planned,70,no,yes,yes,none,aspiration;dental,tube
        already_in_arrest,2026-01-06,emergency,80,yes,yes,yes,none,none,tube
        arrest_before_unknown,2026-01-07,emergency,61,,yes,no,recognised_immediately,dental;pneumothorax,tube
        nothing_said,2026-01-08,emergency,62,no,,,,,tube
        earlier,2025-06-01,emergency,63,no,no,no,none,none,tube
        before,2024-06-01,emergency,64,no,yes,no,none,airway_trauma,tube
        long_ago,2024-01-15,emergency,65,no,yes,yes,delayed,aspiration,tube

        """;

    // The place of that column.
    private const int Complications = 8;

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Every_event_counts_whoever_the_patient_and_what_is_not_recorded_is_told()
    {
        await Run(Pipeline);
        var rows = CsvTable.Read(_workspace["out"], "tables", "harm.csv").Rows.ToArray();
        // Adult, child, planned, and the one whose state before is not recorded; not the one in arrest already.
        Count("Cardiac arrest", "2026-01", events: 4, unknown: 1, of: 6);
        Count("Cardiac arrest", "2025-02/2026-01", events: 4, unknown: 1, of: 7);
        Count("Cardiac arrest", "2024-02/2025-01", events: 1, unknown: 0, of: 1);
        Count("Death within 24 hours", "2026-01", events: 1, unknown: 1, of: 6);
        Count("Oesophageal intubation", "2026-01", events: 2, unknown: 1, of: 6);
        Count("Oesophageal intubation recognised late", "2026-01", events: 1, unknown: 1, of: 6);
        Count("Aspiration", "2026-01", events: 1, unknown: 1, of: 6);
        // A record with two injuries is one record with an injury.
        Count("Injury", "2026-01", events: 2, unknown: 1, of: 6);
        Count("Injury", "2024-02/2025-01", events: 1, unknown: 0, of: 1);
        Assert.Equal(3, rows.Where(row => row["event"] == "Aspiration").Select(row => row["period"]).Distinct().Count());

        var page = WebUtility.HtmlDecode(_workspace.Read("out", "report.html"));
        Assert.Matches(Row("Cardiac arrest", 4, 4, 1, 1), page);
        Assert.Matches(Row("Injury", 2, 2, 1, 1), page);
        Assert.Matches("This month, of 6</th>.*?12 months, of 7</th>.*?12 months before, of 1</th>", page);
        Assert.Contains("Where an event is not recorded, the count may be too low.", page, StringComparison.Ordinal);
        // Front of neck: none in 7 records; 1 − 0.05^(1/7) = 0.3482 (one-sided exact bound).
        Assert.Contains("up to 349 in 1,000 fits a zero in the last 12 months", page.Replace('\u00a0', ' '), StringComparison.Ordinal);

        void Count(string harm, string period, int events, int unknown, int of)
        {
            var row = Assert.Single(rows, row => row["event"] == harm && row["period"] == period);
            Assert.Equal($"{harm} {period}: {events} of {of}, {unknown} unknown",
                $"{harm} {period}: {row["events"]} of {row["procedures"]}, {row["unknown"]} unknown");
        }
    }

    [Fact]
    public async Task A_flag_of_the_department_adds_its_events_to_those_that_are_shipped()
    {
        _workspace.Write("flags.yaml", """
            - id: awareness_reported
              title: Awareness reported afterwards
              tier: 2
              when: age_years > 62
              harm: [Awareness]

            """);
        await Run(Pipeline + "flags: [shipped, flags.yaml]\n");
        var rows = CsvTable.Read(_workspace["out"], "tables", "harm.csv").Rows.ToArray();
        // Planned, already in arrest, and the one of June.
        Assert.Equal(("3", "0", "7"), Assert.Single(rows, row => row["event"] == "Awareness" && row["period"] == "2025-02/2026-01")
            is var row ? (row["events"], row["unknown"], row["procedures"]) : default);
        Assert.Contains("Awareness", _workspace.Read("out", "report.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_nobody_records_is_no_nought()
    {
        // The export has no column for death, and nobody filled in the complications of January.
        var rows = string.Join('\n', Rows.Split('\n').Select(line => line.Contains(",2026-01-", StringComparison.Ordinal)
            ? string.Join(',', line.Split(',').Select((cell, i) => i == Complications ? "" : cell)) : line));
        await Run(Pipeline, Mapping.Replace("  death_24h: {column: dead}\n", "", StringComparison.Ordinal), rows);
        var page = WebUtility.HtmlDecode(_workspace.Read("out", "report.html"));
        Assert.DoesNotContain("<th scope=\"row\">Death within 24 hours</th>", page, StringComparison.Ordinal);
        Assert.Matches("Not recorded in any procedure: [^.]*death within 24 hours", page);
        // Aspiration: nobody says in the month; one of the 12 months does.
        Assert.Contains("<th scope=\"row\">Aspiration</th><td class=\"n\">not recorded</td><td class=\"n\">0</td>", page,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_set_for_others_has_no_counts_of_harm()
    {
        await Run(Pipeline + "audience: network\n");
        Assert.False(File.Exists(_workspace["out", "tables", "harm.csv"]));
        Assert.False(File.Exists(_workspace["out", "appendix.html"]));
        Assert.DoesNotContain("Oesophageal intubation recognised late", Regex.Replace(
            _workspace.Read("out", "report.html"), "<section aria-labelledby=\"m-.*?</section>|<table class=\"summary\">.*?</table>", "",
            RegexOptions.Singleline), StringComparison.Ordinal);
    }

    private static string Row(string harm, params int[] numbers) =>
        $"<th scope=\"row\">{harm}</th>{string.Concat(numbers.Select(number => $"<td class=\"n\">{number}</td>"))}";

    private async Task Run(string pipeline, string mapping = Mapping, string rows = Rows)
    {
        _workspace.Write("pipeline.yaml", pipeline);
        _workspace.Write("mapping.yaml", mapping);
        _workspace.Write("rows.csv", rows);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
    }
}
