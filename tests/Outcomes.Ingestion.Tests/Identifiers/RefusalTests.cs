using System.Collections.Immutable;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>What the detectors make of whole files: refused, or read with cells made missing; and never a word of the cell.</summary>
public class RefusalTests
{
    private const string Heading = "record_id,event_date,spo2_min,location_type,notes\n";

    // The number lies in the range kept for tests and passes modulus 11, worked by hand in HeaderScreenTests.
    [Theory]
    [InlineData("999 000 0018", "identifier_nhs_number_as_printed")]
    [InlineData("moved, 999-000-0018", "identifier_nhs_number_as_printed")]
    [InlineData("a.person@example.org", "identifier_email")]
    [InlineData("lives at EC1A 1BB", "identifier_postcode")]
    public void One_cell_refuses_the_file_wherever_it_stands(string cell, string rule)
    {
        foreach (var row in (string[])[$"R2,2024-01-31,97,icu,{cell}", $"R2,2024-01-31,97,{cell},", $"R2,{cell},97,icu,",
            $"R2,2024-01-31,{cell},icu,", $"{cell},2024-01-31,97,icu,", $"R2,2024-01-31,97,icu,x,{cell}"])
        {
            var failure = Refused(Heading + $"R1,2024-01-31,97,icu,fine\n{row}\n");
            Assert.Equal((ExitCode.Input, rule, 3), (failure.Code, failure.Rule, failure.Line));
            Assert.DoesNotContain(cell, failure.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_refusal_names_column_line_and_count()
    {
        var failure = Refused(Heading + "R1,2024-01-31,97,icu,\nR2,2024-01-31,97,icu,a@example.org\nR3,2024-01-31,97,icu,b@example.org\n");
        Assert.StartsWith("s0.csv:3: column 5 `notes` holds what looks like an e-mail address (2 cells, this line first)", failure.Message,
            StringComparison.Ordinal);
    }

    // Five or more different ten-digit values, more than 30 % of which pass, and that by chance less often than once in 1,000:
    // P(X >= 4 of 5) = 0.000347 and P(X >= 4 of 11) = 0.0137 for X binomial at 1/11 (by hand: 5 x 10/11^5 + 1/11^5 for the first).
    [Theory]
    [InlineData(4, 0, false)]
    [InlineData(5, 0, true)]
    [InlineData(3, 7, false)] // exactly 30 %
    [InlineData(4, 7, false)]
    [InlineData(4, 1, true)]
    [InlineData(7, 7, true)]
    [InlineData(2, 2, false)]
    [InlineData(2, 3, false)]
    [InlineData(0, 9, false)]
    public void Ten_digit_values_refuse_from_five_when_more_pass_than_chance_allows(int passing, int failing, bool refused)
    {
        var cells = Enumerable.Range(0, passing).Select(i => TestNumbers.Passing(i * 31))
            .Concat(Enumerable.Range(0, failing).Select(i => TestNumbers.Failing(i * 37))).ToArray();
        var text = Heading + string.Concat(cells.Select((cell, i) => $"R{i},2024-01-31,97,icu,{cell}\n"));
        if (refused)
        {
            Assert.Equal("identifier_nhs_number", Refused(text).Rule);
            return;
        }

        using var place = new Workplace();
        Assert.Equal(passing > 0 ? [$"identifier_nhs_number 2:5"] : [], Stored.Notes(place.Read(text)));
    }

    [Fact]
    public void Passing_numbers_spread_over_columns_count_together()
    {
        var rows = Enumerable.Range(0, 6).Select(
            i => $"R{i},2024-01-31,97,icu,{(i % 2 == 0 ? TestNumbers.Passing(i) : "")},{(i % 2 == 1 ? TestNumbers.Passing(i) : "")}\n");
        var failure = Refused("record_id,event_date,spo2_min,location_type,a,b\n" + string.Concat(rows));
        Assert.Contains("column 5 `a`", failure.Message, StringComparison.Ordinal);
        Assert.Contains("column 6 `b`", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_single_suspicion_makes_the_cell_missing_and_the_file_passes()
    {
        using var place = new Workplace();
        var source = place.Read("record_id,event_date,site,notes\nR1,2024-01-31,Mr Example,\nR2,2024-01-31,north,seen by Dr Example\n"
            + "R3,2024-01-31,9990000018,\n9990000026,2024-01-31,north,\n", Maps.Of("record_id", "event_date", "site"));
        Assert.Equal(
            ["identifier_name 2:3 site", "identifier_nhs_number 4:3 site", "identifier_nhs_number 5:1 record_id", "identifier_name 3:4"],
            Stored.Notes(source));
        Assert.Equal([null, "north", null, "north"], Stored.Rows(source.Stored.Records).Select(row => row["site"]));
        Assert.Equal(["R1", "R2", "R3", null], Stored.Rows(source.Stored.Records).Select(row => row["record_id"]));
        // Without a key the row is held, as any row without one.
        Assert.Equal("AAAQ", Stored.Fates(Stored.Keep(DuplicatePolicy.Last, strict: false, source), 0));
    }

    [Fact]
    public void A_cell_that_was_read_as_a_number_a_date_or_a_word_is_not_searched()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date", "location_type");
        mapping = mapping with
        {
            Columns = mapping.Columns.SetItem(2,
                mapping.Columns[2] with { Codes = ImmutableDictionary<string, string>.Empty.Add("Dr Example", "icu") })
        };
        Assert.Empty(Stored.Notes(place.Read("record_id,event_date,location_type\nR1,2024-01-31,Dr Example\n", mapping)));
    }

    [Fact]
    public void Quarantined_rows_do_not_carry_identifiers_on()
    {
        using var place = new Workplace();
        var source = place.Read(Heading + "R1,not a date,97,icu,seen by Dr Example\nR2,2024-01-31,97,icu,A1234567,extra\n");
        var rows = Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)).ToArray();
        Assert.Equal(["R1", "not a date", "97", "icu", ""], rows[0].Cells);
        Assert.Equal(["R2", "2024-01-31", "97", "icu", "", "extra"], rows[1].Cells);
    }

    // A surname is recognised by its column, not by its cell; a row with too many cells shifts it.
    [Fact]
    public void Quarantined_rows_carry_no_cell_of_a_column_that_may_identify_as_a_whole()
    {
        string[] names =
        [
            "Exampleton", "Fenwickson", "Grayling", "Hollins", "Ibbotson", "Jessop", "Kettle", "Lambton", "Mossley", "Norcott"
        ];
        var rows = names.Select((name, i) => $"R{i},2024-01-31,97,{name},{name[..2]}\n");
        using var place = new Workplace();
        var source = place.Read("record_id,event_date,spo2_min,who,kit\n" + string.Concat(rows)
            + "R20,not a date,97,Oakes,bougie\nR21,2024-01-31,97,stray,Pringle,bougie\nR22,2024-01-31,97,seen by Dr Example\n",
            Maps.Of("record_id", "event_date", "spo2_min"));
        Assert.Contains(3, source.Manifest.Withheld);
        var kept = Quarantine.Rows(source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)).ToArray();
        Assert.Equal(3, kept.Length);
        Assert.Equal(["R20", "not a date", "97", "", "bougie"], kept[0].Cells);
        Assert.DoesNotContain("Pringle", kept[1].Cells);
        Assert.DoesNotContain("Example", string.Concat(kept[2].Cells), StringComparison.Ordinal);
    }

    [Fact]
    public void Text_that_hardly_repeats_refuses_where_it_is_read_and_warns_where_it_is_not()
    {
        var rows = Enumerable.Range(0, 40)
            .Select(i => (Key: $"R{i}", Text: $"Person{(char)('a' + (i / 26))}{(char)('a' + (i % 26))}")).ToArray();
        using var place = new Workplace();
        var unread = place.Read("record_id,event_date,who\n" + string.Concat(rows.Select(row => $"{row.Key},2024-01-31,{row.Text}\n")),
            Maps.Of("record_id", "event_date"));
        Assert.Equal(["identifier_unique_text 0:3", "identifier_name_column 0:3"], Stored.Notes(unread));
        Assert.Equal("identifier_unique_text", Refused("record_id,event_date,site\n"
            + string.Concat(rows.Select(row => $"{row.Key},2024-01-31,{row.Text}\n")), Maps.Of("record_id", "event_date", "site")).Rule);
        // Keys are unique by nature, but a list of names is a list of names there too; short words and repeated ones single nobody out.
        Assert.Empty(Stored.Notes(place.Read("record_id,event_date,who\n"
            + string.Concat(rows.Select((row, i) => $"kq{i}w{i % 7},2024-01-31,{row.Key}\n")), Maps.Of("record_id", "event_date"))));
        Assert.Equal(["identifier_name_column 0:1 record_id"], Stored.Notes(place.Read("record_id,event_date,who\n"
            + string.Concat(rows.Select(row => $"{row.Text},2024-01-31,{row.Key}\n")), Maps.Of("record_id", "event_date"))));
        Assert.Equal(["identifier_name_column 0:3"], Stored.Notes(place.Read("record_id,event_date,who\n"
            + string.Concat(rows.Select((row, i) => $"{row.Key},2024-01-31,{rows[i / 2].Text}\n")), Maps.Of("record_id", "event_date"))));
        // Seven who recur may be staff; three are as likely a list of places.
        Assert.Equal(["identifier_name_column 0:3"], Stored.Notes(place.Read("record_id,event_date,who\n"
            + string.Concat(rows.Select((row, i) => $"{row.Key},2024-01-31,{rows[i / 6].Text}\n")), Maps.Of("record_id", "event_date"))));
        Assert.Empty(Stored.Notes(place.Read("record_id,event_date,who\n"
            + string.Concat(rows.Select((row, i) => $"{row.Key},2024-01-31,{rows[i / 14].Text}\n")), Maps.Of("record_id", "event_date"))));
    }

    [Fact]
    public void A_checked_column_passes_and_is_on_record()
    {
        using var place = new Workplace();
        var text = "record_id,event_date,spo2_min,location_type,Surname\nR1,2024-01-31,97,icu,999 000 0018\n";
        Assert.Equal("identifying_column", Refused(text).Rule);
        var source = place.Read(text, Maps.Small with
        {
            Text = "checked",
            Checked = [new CheckedColumn("Surname", "names of devices, checked by the audit lead, 2026-03-31", 9)]
        });
        Assert.Equal(["column_checked 0:5"], Stored.Notes(source));
        Assert.Equal(Severity.Warn, CellRules.SeverityOf(Stored.Findings(source)[0].Rule, null, strict: true));
        Assert.Equal([4], source.Manifest.Checked);
        // The statement is of one column, not of the file.
        Assert.Equal("identifier_email", Refused(text.Replace("icu", "a@example.org", StringComparison.Ordinal),
            Maps.Small with { Checked = [new CheckedColumn("Surname", "", 9)] }).Rule);
        Assert.Equal((ExitCode.Definition, 9), Refused(text, Maps.Small with { Checked = [new CheckedColumn("Name", "", 9)] }) is var wrong
            ? (wrong.Code, wrong.Line)
            : default);
    }

    // A statement that names its rules lifts those and no other.
    [Fact]
    public void A_lifted_rule_leaves_every_other_in_force()
    {
        var text = Heading + string.Concat(Enumerable.Range(0, 8).Select(i => $"R{i},2024-01-31,97,icu,{TestNumbers.Passing(i * 31)}\n"));
        var lifted = Maps.Small with { Checked = [new CheckedColumn("notes", "", 9) { Rules = ["identifier_nhs_number"] }] };
        var refused = Refused(text);
        Assert.Equal("identifier_nhs_number", refused.Rule);
        Assert.Contains("lift `identifier_nhs_number` for it under columns_checked", refused.Message, StringComparison.Ordinal);
        using var place = new Workplace();
        var source = place.Read(text, lifted);
        Assert.Equal(["column_checked 0:5"], Stored.Notes(source));
        Assert.Equal(["identifier_nhs_number"], source.Manifest.CheckedRules);
        Assert.Equal("identifier_email", Refused(text + "R9,2024-01-31,97,icu,a@example.org\n", lifted).Rule);
        Assert.Equal("identifier_nhs_number_as_printed", Refused(text + "R9,2024-01-31,97,icu,999 000 0018\n", lifted).Rule);
        Assert.Equal("identifying_column", Refused(text.Replace("notes", "Surname", StringComparison.Ordinal),
            lifted with { Checked = [lifted.Checked[0] with { Column = "Surname" }] }).Rule);
    }

    [Fact]
    public void Every_rule_that_refuses_can_be_lifted_by_the_name_the_refusal_gives()
    {
        foreach (var rule in LiftedRules.Known)
            Assert.NotEqual(LiftedRules.None, LiftedRules.Of([new CheckedColumn("x", "", 1) { Rules = [rule] }]));
        Assert.Contains("identifier_name_column", LiftedRules.Known);
        Assert.Contains("identifier_birth_date_column", LiftedRules.Known);
        Assert.True(LiftedRules.Of([new CheckedColumn("x", "", 1)]).Everything);
    }

    [Theory]
    [InlineData("export 999 000 0018.csv")]
    [InlineData("9990000018.csv")]
    [InlineData("list_A1234567_final.csv")]
    [InlineData("dr_Example.csv")]
    [InlineData("for Mr Example.csv")]
    [InlineData("a.person@example.org.csv")]
    [InlineData("demo-2024-03-31.csv", false)]
    public void A_file_name_that_identifies_is_replaced_by_the_source_s_place(string name, bool hidden = true)
    {
        using var place = new Workplace();
        var path = place.File("record_id,event_date\nR1,2024-01-31\n"u8.ToArray());
        var request = new SourceRequest("s", 1, path, name, Maps.Of("record_id", "event_date"));
        Assert.Equal(hidden ? "source 2" : name, Ingest.Read(request, Maps.Dictionary, place.Store).Request.File);
        var missing = Assert.Throws<Failure>(() => Ingest.Read(request with { Path = path + "x" }, Maps.Dictionary, place.Store));
        Assert.Equal(hidden ? "source 2" : name, missing.File);
        Assert.Equal(hidden, !missing.Message.Contains(name, StringComparison.Ordinal));
    }

    [Fact]
    public void A_heading_that_resembles_an_identifier_is_stored_by_its_place()
    {
        using var place = new Workplace();
        var source = place.Read("record_id,event_date,seen by Dr Example\nR1,2024-01-31,A1234567\n", Maps.Of("record_id", "event_date"));
        Assert.Equal(["record_id", "event_date", "column 3"], source.Manifest.Headings);
        Assert.DoesNotContain("Example", File.ReadAllText(Path.Combine(source.Stored.Folder, "source.json")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_refusal_leaves_nothing_in_the_store()
    {
        using var place = new Workplace();
        Assert.Throws<Failure>(() => place.Read(Heading + "R1,2024-01-31,97,icu,a@example.org\n"));
        Assert.Empty(Directory.GetFileSystemEntries(place.Store));
    }

    [Fact]
    public void Findings_and_refusals_do_not_depend_on_the_size_of_blocks()
    {
        var rows = Enumerable.Range(0, 300).Select(i => $"R{i},2024-01-31,{(i == 120 ? "9990000018" : "97")},icu,"
            + $"{(i % 97 == 5 ? "Dr Example" : i % 50 == 9 ? TestNumbers.Failing(i) : $"value of {i}")}\n");
        var text = Heading + string.Concat(rows);
        var refused = text + "R300,2024-01-31,97,icu,EC1A 1BB\nR301,2024-01-31,97,icu,a@example.org\n";
        using var place = new Workplace();
        var (notes, message) = (Findings(place, text, 1 << 20), Refused(refused).Message);
        Assert.Contains("identifier_unique_text", notes, StringComparison.Ordinal);
        for (var size = 40; size < text.Length; size *= 3)
        {
            using var other = new Workplace();
            Assert.Equal(notes, Findings(other, text, size));
            Assert.Equal(message, Assert.Throws<Failure>(() => other.Read(refused, blockSize: size)).Message);
        }
    }

    private static string Findings(Workplace place, string text, int size) =>
        string.Join('\n', Stored.Findings(place.Read(text, blockSize: size)).Select(finding => $"{CellRules.Id(finding.Rule)} {finding}"));

    private static Failure Refused(string text, SourceMapping? mapping = null)
    {
        using var place = new Workplace();
        return Assert.Throws<Failure>(() => place.Read(text, mapping));
    }
}
