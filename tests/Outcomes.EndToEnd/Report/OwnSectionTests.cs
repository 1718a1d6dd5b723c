using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>A department adds a stratum, a section and an agreement pair with text files alone.</summary>
public sealed class OwnSectionTests : IDisposable
{
    private const string Pipeline = """
        name: own
        as_of: 2025-01-31
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        derived: [shipped, derived.yaml]
        sections: [shipped, sections.yaml]
        strata: [agent]
        headline: [first_pass]

        """;

    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          urgency: {column: urgency}
          age_years: {column: age}
          attempts_total: {column: attempts}
          first_pass_success: {column: first}
          sbp_pre: {column: pressure}
          induction_agent: {column: agent}
          final_plan: {column: plan}

        """;

    private const string Derived = """
        - id: agent
          title: Induction agent
          type: code
          values: {ketamine: Ketamine, propofol: Propofol alone}
          sql: case when induction_agent_ketamine then 'ketamine' when induction_agent_propofol then 'propofol' end

        """;

    private const string Sections = """
        - id: shock
          title: Patients in shock
          question: Do results differ where the patient was shocked at induction, and by which agent?
          note: Systolic pressure below 100 mmHg.
          measures: [first_pass]
          strata: [agent, shocked_before]
          compare: {by: shocked_before}
        - id: agreement
          title: Told twice
          question: Does the answer fit the number of attempts?
          agreement:
            - id: first
              title: First attempt succeeded
              first: answer in the record
              second: number of attempts
              answers:
                - {title: "yes", first: first_pass_success, second: attempts_total = 1}
                - {title: "no", first: not first_pass_success, second: attempts_total > 1}

        """;

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_stratum_and_a_section_of_text_are_in_the_report_with_counts_as_by_hand()
    {
        Write();
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "all");
        Assert.True(result.Exit == 0, result.ToString());
        var page = _workspace.Read("out", "appendix.html");
        Assert.Contains("<a href=\"#shock\">Patients in shock</a>", page, StringComparison.Ordinal);
        Assert.Contains("<strong>Do results differ where the patient was shocked at induction, and by which agent?</strong>", page,
            StringComparison.Ordinal);
        Assert.Contains("<td>Propofol alone</td>", page, StringComparison.Ordinal);
        Assert.Contains("<h3>Induction agent</h3>", page, StringComparison.Ordinal);
        Assert.True(File.Exists(_workspace["out", "charts", "shock-1.svg"]));
        var rows = CsvTable.Read(_workspace["out"], "tables", "strata.csv").Rows.Where(row => row["section"] == "shock").ToArray();
        // Of 48 records every second had ketamine and every third was shocked; every fourth first attempt failed.
        foreach (var (stratum, level, group) in new (string, string, Func<int, bool>)[]
        {
            ("agent", "ketamine", i => i % 2 == 0), ("agent", "propofol", i => i % 2 == 1),
            ("shocked_before", "yes", i => i % 3 == 0), ("shocked_before", "no", i => i % 3 != 0),
        })
        {
            var row = Assert.Single(rows, row => row["stratum"] == stratum && row["level"] == level);
            int[] those = [.. Enumerable.Range(0, 48).Where(group)];
            Assert.Equal((those.Count(i => i % 4 != 0), those.Length), (Number(row["met"]), Number(row["eligible"])));
        }
    }

    [Fact]
    public async Task A_section_among_records_of_either_kind_takes_in_none_that_its_measure_does_not_ask()
    {
        const string Either = """
            - id: either
              title: Shocked or tried often
              question: How often was it done?
              among: attempts_total > 9 or shocked_before
              measures: [first_pass]
              strata: [agent]

            """;
        Write(Sections + Either);
        _workspace.Write("rows.csv", _workspace.Read("rows.csv").Replace("r00,2024-02-10,emergency", "r00,2024-02-10,planned",
            StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        var rows = CsvTable.Read(_workspace["out"], "tables", "strata.csv").Rows.Where(row => row["section"] == "either");
        // Of the 48, 0, 6, 12 and so on were shocked and had ketamine; the first of them was planned.
        Assert.Equal(7, Number(Assert.Single(rows, row => row["level"] == "ketamine")["eligible"]));
    }

    [Fact]
    public async Task A_section_draws_what_its_key_names_and_nothing_by_its_own_id()
    {
        const string Listed = """
            - id: plans
              title: Plans here
              question: How often was it done?
              measures: [first_pass]
              drawing: ladder
            - id: both
              title: Both here
              question: How often was it done by agent?
              measures: [first_pass]
              drawing: shock
            - id: attempts
              title: Attempts here
              question: How often was it done at the first try?
              measures: [first_pass]

            """;
        Write(Sections + Listed);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "all");
        Assert.True(result.Exit == 0, result.ToString());
        var page = _workspace.Read("out", "report.html");
        Assert.Contains("t-plans", Side(page, "Plans here"), StringComparison.Ordinal);
        Assert.Contains("<figure", Side(page, "Both here"), StringComparison.Ordinal);
        Assert.DoesNotContain("t-plans", Side(page, "Attempts here"), StringComparison.Ordinal);
    }

    private static string Side(string page, string title)
    {
        var side = page[page.IndexOf($">{title}</h2>", StringComparison.Ordinal)..];
        return side[..side.IndexOf("</section>", StringComparison.Ordinal)];
    }

    [Fact]
    public async Task A_section_with_the_id_of_a_shipped_one_takes_its_place()
    {
        Write();
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Contains("Told twice", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        var rows = CsvTable.Read(_workspace["out"], "tables", "agreement.csv").Rows;
        Assert.All(rows, row => Assert.Equal("first", row["pair"]));
        Assert.Equal([36, 0, 0, 12], rows.Where(row => row["part"] == "cell").Select(row => Number(row["n"])));
    }

    [Theory]
    [InlineData("measures: [first_pass]", "measures: [first_pas]", "sections.yaml:1", "did you mean `first_pass`?")]
    [InlineData("strata: [agent, shocked_before]", "strata: [agnt, shocked_before]", "sections.yaml:1", "did you mean `agent`?")]
    [InlineData("by: shocked_before", "by: agent", "sections.yaml:1", "`agent` is not yes or no")]
    [InlineData("by: shocked_before", "by: adult", "sections.yaml:7", "`adult` is not among the section's strata")]
    [InlineData("first: first_pass_success", "first: first_pas_success", "sections.yaml:12", "agreement first")]
    [InlineData("  compare:", "  months: 6\n  compare:", "sections.yaml:7", "12 months or more")]
    [InlineData("  compare:", "  drawing: laddr\n  compare:", "sections.yaml:7", "did you mean `ladder`?")]
    [InlineData("  compare:", "  drawing: desaturate\n  compare:", "sections.yaml:7", "did you mean `desaturation`?")]
    public async Task A_section_that_is_wrong_is_told_by_file_and_line(string right, string wrong, string place, string message)
    {
        Write(Sections.Replace(right, wrong, StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml");
        Assert.Equal(3, result.Exit);
        Assert.Contains(place, result.Error, StringComparison.Ordinal);
        Assert.Contains(message, result.Error, StringComparison.Ordinal);
    }

    private void Write(string sections = Sections)
    {
        var rows = new StringBuilder("id,day,urgency,age,attempts,first,pressure,agent,plan\n");
        for (var i = 0; i < 48; i++)
            rows.Append(string.Create(CultureInfo.InvariantCulture, $"r{i:D2},{(i % 12 < 11 ? $"2024-{(i % 12) + 2:D2}" : "2025-01")}-10,"
                + $"emergency,60,{(i % 4 == 0 ? 2 : 1)},{(i % 4 == 0 ? "no" : "yes")},{(i % 3 == 0 ? 90 : 120)},"
                + $"{(i % 2 == 0 ? "ketamine" : "propofol")},A\n"));
        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("mapping.yaml", Mapping);
        _workspace.Write("derived.yaml", Derived);
        _workspace.Write("sections.yaml", sections);
        _workspace.Write("pipeline.yaml", Pipeline);
    }

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
