using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Whether trouble was prepared for, how fast plans were left, and what precautions cost: 66 invented records over 12 months, counted here
/// by hand beside the tool.
/// </summary>
public sealed class ReadinessTests(SharedRuns runs) : IDisposable
{
    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          urgency: {column: urgency}
          age_years: {column: age}
          cardiac_arrest_before: {column: arrest}
          anatomical_difficulty: {column: difficult}
          sbp_pre: {column: sbp}
          hr_pre: {column: hr}
          senior_present: {column: senior}
          vasopressor_pre: {column: pressor}
          drugs_ready: {column: drugs, split: ";"}
          fona_kit_ready: {column: neck}
          infection_status: {column: infection}
          staff_in_room: {column: staff}
          t_decision_s: {column: decision}
          fona_performed: {column: fona}
          cico_declared: {column: cico}
          t_fona_s: {column: fona_at}
          t_cico_declared_s: {column: cico_at}
          final_airway: {column: airway}

        """;

    private const string Attempts = """
        table: {rows: attempts}
        columns:
          record_id: {column: id}
          attempt_no: {column: no}
          plan: {column: plan}
          technique: {column: technique}
          outcome: {column: outcome}
          t_blade_in_s: {column: at}
          duration_s: {column: for}

        """;

    private const string Pipeline = """
        name: prepared
        as_of: 2025-01-31
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
          attempts: {file: attempts.csv, mapping: attempts.yaml}
        measures: [shipped]
        strata: []
        headline: [senior_present]
        baseline: {from: 2024-02, months: 12}

        """;

    private readonly Workspace _own = new();

    private Workspace? _made;

    // What was run last in this test: the run that all of them share, or one of its own.
    private Workspace Made => _made ?? throw new InvalidOperationException("Nothing has been run.");

    public void Dispose() => _own.Dispose();

    // Sixty records without arrest, of which six do not say whether difficulty was expected; six in arrest.
    private sealed record Case(int I)
    {
        public bool Arrest => I >= 60;

        public bool? Difficult => I is >= 54 and < 60 ? null : I < 24;

        // Three by heart rate over pressure alone: 99 over 110 is 0.9.
        public bool Shocked => I is >= 20 and < 35;

        public string Pressure => I is >= 20 and < 32 ? "92,80" : I is >= 32 and < 35 ? "110,99" : I % 2 == 0 ? "110,98" : "120,";

        public bool? AtRisk => Difficult == true || Shocked ? true : Difficult;

        public bool? Senior => I % 10 == 5 ? null : I % 2 == 0;

        public bool Running => I < 10;

        public bool? Drawn => I % 7 == 3 ? null : I % 4 == 0;

        public bool? Pressor => Running || Drawn == true ? true : Drawn;

        public bool? Neck => I % 11 == 4 ? null : I % 3 != 0;

        public bool? AllThree => Senior is { } senior && Pressor is { } pressor && Neck is { } neck ? senior && pressor && neck : null;

        public bool Infectious => I % 3 == 1;

        public int Staff => Infectious ? 3 + (I % 2) : 5 + (I % 2);

        public int Decision => (Infectious ? 1500 : 900) + I;
    }

    private static readonly Case[] Cases = [.. Enumerable.Range(0, 66).Select(i => new Case(i))];

    [Theory]
    [InlineData("senior_present")]
    [InlineData("vasopressor_at_hand")]
    [InlineData("front_of_neck_set_ready")]
    [InlineData("senior_pressor_neck_ready")]
    public async Task What_was_ready_is_counted_in_each_group_as_by_hand_and_beside_it_the_reading_of_those_that_say(string measure)
    {
        await RunAsItStands();
        Func<Case, bool?> met = measure switch
        {
            "senior_present" => c => c.Senior,
            "vasopressor_at_hand" => c => c.Pressor,
            "front_of_neck_set_ready" => c => c.Neck,
            _ => c => c.AllThree
        };
        var asked = Cases.Where(c => !c.Arrest).ToArray();
        foreach (var (field, level, group) in new (string, string, Func<Case, bool>)[]
        {
            ("all", "all", _ => true), ("predicted_difficult", "yes", c => c.Difficult == true),
            ("predicted_difficult", "(missing)", c => c.Difficult is null),
            ("shocked_before", "yes", c => c.Shocked), ("at_risk_before", "yes", c => c.AtRisk == true),
            ("at_risk_before", "no", c => c.AtRisk == false),
            ("at_risk_before", "(missing)", c => c.AtRisk is null),
        })
        {
            var those = asked.Where(group).ToArray();
            var expected = (those.Count(c => met(c) == true), those.Length);
            Assert.Equal(expected, Counts(measure, field, level));
            Assert.Equal((expected.Item1, those.Count(c => met(c) is not null)), Counts(measure + ".known", field, level));
        }

        var difference = Assert.Single(CsvTable.Read(Made["out"], "tables", "comparisons.csv").Rows,
            row => row["section"] == "readiness" && row["measure"] == measure && row["part"] == "difference");
        var (yes, no) = (Counts(measure, "at_risk_before", "yes"), Counts(measure, "at_risk_before", "no"));
        Assert.Equal((yes.Met / (double)yes.Eligible) - (no.Met / (double)no.Eligible), Number(difference["value"]), 1e-9);
    }

    [Fact]
    public async Task The_section_says_that_it_is_no_outcome_and_how_groups_are_told_and_a_network_does_not_get_it()
    {
        await RunAsItStands();
        var section = Section("readiness");
        Assert.Contains("Readiness is not outcome", section, StringComparison.Ordinal);
        Assert.Contains("MACOCHA 3 or more", section, StringComparison.Ordinal);
        Assert.Contains("id=\"t-readiness\"", section, StringComparison.Ordinal);
        Assert.Contains("<svg", section, StringComparison.Ordinal);
        await Run(Pipeline + "audience: network\n");
        Assert.DoesNotContain("Readiness for difficulty", Made.Read("out", "report.html"), StringComparison.Ordinal);
        Assert.False(File.Exists(Made["out", "tables", "strata.csv"]));
        Assert.False(File.Exists(Made["out", "tables", "quantities.csv"]));
    }

    [Fact]
    public async Task Without_the_fields_there_is_no_section()
    {
        await Run(mapping: Mapping.Replace("  anatomical_difficulty: {column: difficult}\n", "", StringComparison.Ordinal)
            .Replace("  sbp_pre: {column: sbp}\n", "", StringComparison.Ordinal));
        Assert.DoesNotContain("id=\"readiness\"", Made.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Times_beside_the_ladder_are_summarised_from_five_on_and_a_single_one_is_counted_and_shown_nowhere()
    {
        await RunAsItStands();
        var ladder = Section("ladder");
        // 100, 110, ... 160 s; one record does not say: quartiles of 7 by definition 7 of Hyndman and Fan are its 2nd and 3rd, 4th, and 5th
        // and 6th values halved.
        Assert.Contains("<td class=\"n\">7 / 1</td><td class=\"n\">130 (100\u00a0to\u00a0160)</td><td "
            + "class=\"n\">115\u00a0to\u00a0145</td>", ladder, StringComparison.Ordinal);
        // In place 20 s after its start.
        Assert.Contains("<td class=\"n\">7 / 1</td><td class=\"n\">150 (120\u00a0to\u00a0180)</td>", ladder, StringComparison.Ordinal);
        Assert.Matches("Seconds from induction to front-of-neck access</th><td class=\"n\">1 / 0</td><td class=\"n\">too few</td>", ladder);
        var page = Made.Read("out", "appendix.html");
        Assert.DoesNotContain(">613", page[page.IndexOf("<main", StringComparison.Ordinal)..], StringComparison.Ordinal);
        Assert.All(CsvTable.Read(Made["out"], "tables", "quantities.csv").Rows.Where(row => row["measure"] == "front_of_neck_after"),
            row => Assert.Equal(("", "1"), (row["value"], row["n"])));
    }

    [Fact]
    public async Task People_in_the_room_and_the_time_to_induction_stand_with_and_without_infection()
    {
        await RunAsItStands();
        var rows = CsvTable.Read(Made["out"], "tables", "quantities.csv").Rows
            .Where(row => row["stratum"] == "infection_suspected" && row["quantile"] == "0.5").ToArray();
        foreach (var (level, infectious) in new[] { ("yes", true), ("no", false) })
        {
            var those = Cases.Where(c => c.Infectious == infectious).ToArray();
            Assert.Equal(Median(those.Select(c => c.Staff)),
                Number(Assert.Single(rows, row => row["measure"] == "staff_in_room" && row["level"] == level)["value"]), 1e-9);
            Assert.Equal(Median(those.Select(c => c.Decision)),
                Number(Assert.Single(rows, row => row["measure"] == "decision_to_induction" && row["level"] == level)["value"]), 1e-9);
        }

        Assert.Contains("Medians whose intervals overlap may still differ", Section("infection"), StringComparison.Ordinal);
    }

    private async Task RunAsItStands() => _made =
        (await runs.Get("readiness", () => Write(new Workspace(), Pipeline, Mapping), "run", "pipeline.yaml", "--out", "out")).Workspace;

    private async Task Run(string pipeline = Pipeline, string mapping = Mapping)
    {
        _made = Write(_own, pipeline, mapping);
        var result = await ToolProcess.Run(_own.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
    }

    private static Workspace Write(Workspace workspace, string pipeline, string mapping)
    {
        var (rows, attempts) = (new StringBuilder(
            "id,day,urgency,age,arrest,difficult,sbp,hr,senior,pressor,drugs,neck,"
                + "infection,staff,decision,fona,cico,fona_at,cico_at,airway\n"),
            new StringBuilder("id,no,plan,technique,outcome,at,for\n"));
        foreach (var c in Cases)
        {
            var neck = c.I == 40;
            rows.Append(string.Create(CultureInfo.InvariantCulture, $"r{c.I:D3},{Month(c.I % 12)}-1{c.I % 10},emergency,60,"
                + $"{Word(c.Arrest)},{Word(c.Difficult)},{c.Pressure},{Word(c.Senior)},{(c.Running ? "infusion" : "none")},"))
                .Append(string.Create(CultureInfo.InvariantCulture,
                    $"{(c.Drawn is not { } drawn ? "" : drawn ? "induction;vasopressor" : "induction")},{Word(c.Neck)},"
                        + $"{(c.Infectious ? "confirmed" : "not_suspected")},{c.Staff},{-c.Decision},{Word(neck)},{Word(neck)},"))
                .Append(neck ? "613,570,fona_scalpel\n" : ",,tube\n");
            attempts.Append(string.Create(CultureInfo.InvariantCulture,
                $"r{c.I:D3},1,A,direct,{(c.I < 8 ? "no_view" : "success")},50,30\n"));
            if (c.I < 8)
                attempts.Append(string.Create(CultureInfo.InvariantCulture,
                    $"r{c.I:D3},2,B,sga_insertion,success,{(c.I == 7 ? "" : 100 + (10 * c.I))},20\n"));
        }

        workspace.Write("rows.csv", rows.ToString());
        workspace.Write("attempts.csv", attempts.ToString());
        workspace.Write("mapping.yaml", mapping);
        workspace.Write("attempts.yaml", Attempts);
        workspace.Write("pipeline.yaml", pipeline);
        return workspace;
    }

    private (int Met, int Eligible) Counts(string measure, string stratum, string level)
    {
        var row = Assert.Single(CsvTable.Read(Made["out"], "tables", "strata.csv").Rows,
            row => row["section"] == "readiness" && row["measure"] == measure && row["stratum"] == stratum && row["level"] == level);
        return (int.Parse(row["met"], CultureInfo.InvariantCulture), int.Parse(row["eligible"], CultureInfo.InvariantCulture));
    }

    private static double Median(IEnumerable<int> values)
    {
        int[] sorted = [.. values.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2.0;
    }

    private static string Word(bool? answer) => answer switch { true => "yes", false => "no", null => "" };

    private static string Month(int i) => i < 11 ? $"2024-{i + 2:D2}" : "2025-01";

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private string Section(string id)
    {
        var page = Made.Read("out", "appendix.html");
        var start = page.IndexOf($"<section aria-labelledby=\"{id}\">", StringComparison.Ordinal);
        Assert.True(start >= 0, id);
        return page[start..page.IndexOf("</section>", start, StringComparison.Ordinal)];
    }
}
