using Outcomes.Cli.Drafting;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

public sealed class DraftingTests
{
    private static readonly Vocabulary Words = Vocabulary.Shipped;

    [Theory]
    [InlineData("Lowest O2 sats", "spo2_min")]
    [InlineData("sbpPre", "sbp_pre")]
    [InlineData("Minimum systolic BP (mmHg)", "sbp_min")]
    [InlineData("Date of intubation", "event_date")]
    [InlineData("No. of attempts", "attempts_total")]
    [InlineData("First-pass success", "first_pass_success")]
    [InlineData("preox_min", "preox_min")]
    [InlineData("Cardiac arrest before", "cardiac_arrest_before")]
    [InlineData("Urgency (1=immediate, 2=urgent)", "urgency")]
    public void A_heading_is_likest_to_the_field_it_names(string heading, string expected)
    {
        var fields = FieldDictionary.Shipped.Of(FieldDictionary.Procedure)
            .OrderByDescending(field => Words.Likeness(heading, field)).ToList();
        Assert.Equal(expected, fields[0].Name);
        Assert.True(Words.Likeness(heading, fields[0]) > Words.Likeness(heading, fields[1]));
    }

    [Theory]
    [InlineData("urgency", "Elective", "planned")]
    [InlineData("infection_status", "Not suspected", "not_suspected")]
    [InlineData("infection_status", "SUSPECTED", "suspected")]
    [InlineData("checklist", "Not available", "not_available")]
    [InlineData("checklist", "Not used", "available_not_used")]
    [InlineData("final_plan", "Plan B", "B")]
    [InlineData("senior_present", "Y", "yes")]
    [InlineData("oesophageal", "No", "none")]
    [InlineData("oesophageal", "Yes", null)]
    [InlineData("location_type", "Emergency bay", null)]
    [InlineData("co2_confirmation", "not waveform", null)]
    public void A_word_stands_for_a_value_only_when_it_clearly_does(string field, string word, string? expected) =>
        Assert.Equal(expected, Words.Value(word, Field(field)));

    [Theory]
    [InlineData("2026-01-05 2026-02-03", "yyyy-MM-dd")]
    [InlineData("05/01/2026 13/01/2026", "dd/MM/yyyy")]
    [InlineData("01/13/2026 01/05/2026", "MM/dd/yyyy")]
    [InlineData("5/1/2026 23/11/2026", "d/M/yyyy")]
    [InlineData("05-Jan-2026 06-Feb-2026", "dd-MMM-yyyy")]
    public void A_date_format_is_named_when_a_cell_settles_it(string cells, string expected) =>
        Assert.Equal(expected, DateForm.OfDates(Column("Date", cells.Split(' ')))!.Pattern);

    [Fact]
    public void A_date_format_that_no_cell_settles_or_that_is_mixed_is_left_open()
    {
        var open = DateForm.OfDates(Column("Date", "05/01/2026", "12/12/2026"))!;
        Assert.Equal((null, false), (open.Pattern, open.Mixed));
        Assert.Equal(["dd/MM/yyyy", "MM/dd/yyyy"], open.Either);
        var mixed = DateForm.OfDates(Column("Date", "13/01/2026", "01/13/2026"))!;
        Assert.Equal((null, true), (mixed.Pattern, mixed.Mixed));
        Assert.Null(DateForm.OfDates(Column("Date", "13/01/26", "14/01/26")));
        Assert.Null(DateForm.OfDates(Column("Date", "soon", "later")));
    }

    [Theory]
    [InlineData("preox_min", "Preox time", "180 240 120", "s", false)]
    [InlineData("preox_min", "Preox time", "3 4 5", null, false)]
    [InlineData("preox_min", "Preox time", "3 4 180 240", null, true)]
    [InlineData("preox_min", "Preox (s)", "3 4 5", null, true)]
    [InlineData("spo2_min", "Lowest", "0.92 0.85", "1", false)]
    [InlineData("spo2_min", "Lowest", "92 85", null, false)]
    [InlineData("sbp_min", "Lowest", "12 14 11", "kPa", false)]
    [InlineData("sbp_min", "Lowest", "92 114", null, false)]
    [InlineData("sbp_min", "Lowest", "92 12 114 13", null, true)]
    [InlineData("fluid_bolus_ml", "Fluid (L)", "1 0.5", "L", false)]
    public void A_unit_is_read_off_heading_and_values_or_asked(string field, string heading, string cells, string? unit, bool doubt)
    {
        var form = UnitForm.Of(Column(heading, cells.Split(' ')), Field(field), Words);
        Assert.Equal((unit, doubt), (form.Unit, form.Doubt is not null));
    }

    [Theory]
    [InlineData("Patient name", "x")]
    [InlineData("Hospital No", "1")]
    [InlineData("Contact", "nobody@example.org")]
    [InlineData("Home", "ZE9 9ZZ")]
    [InlineData("Link", "943 476 5919")]
    [InlineData("Seen by", "Dr Nobody")]
    [InlineData("Ring", "020 7946 0123")]
    [InlineData("Dr Nobody", "1")]
    public void An_identifying_column_is_suspected(string heading, string cell) =>
        Assert.NotNull(Suspicion.Of(Column(heading, cell, cell, cell), Words));

    [Fact]
    public void A_column_of_hospital_numbers_names_or_free_text_is_suspected_and_codes_are_not()
    {
        Assert.NotNull(Suspicion.Of(Column("Ref", [.. Enumerable.Range(0, 40).Select(i => $"H{4_000_000 + (i * 1237)}")]), Words));
        Assert.NotNull(Suspicion.Of(Column("Who", [.. Enumerable.Range('a', 20).Select(c => $"Nob{(char)c} Invented")]), Words));
        Assert.NotNull(
            Suspicion.Of(Column("Remarks", [.. Enumerable.Range(0, 20).Select(i => $"there was a lot to say about {i}")]), Words));
        Assert.Null(Suspicion.Of(Column("Ref", [.. Enumerable.Range(1, 40).Select(i => $"R{i:000000}")]), Words));
        Assert.Null(Suspicion.Of(Column("Ref", [.. Enumerable.Range(1, 40).Select(i => $"R{i}")]), Words));
        Assert.Null(Suspicion.Of(Column("Where", "Emergency Department", "Intensive Care"), Words));
    }

    // Random keys of six letters and digits: some are postcodes by chance, and a run asks no more of a key.
    [Fact]
    public void A_key_that_is_a_postcode_by_chance_is_no_postcode()
    {
        string[] keys = ["x7k2pq", "ze99zz", "c4n8rt", "k2m7vw"];
        Assert.Null(Suspicion.Of(Column("Ref", keys), Words));
        Assert.NotNull(Suspicion.Of(Column("Remark", "none", "none", "ze9 9zz"), Words));
    }

    [Fact]
    public void Words_of_its_own_under_the_name_of_a_field_are_a_question_and_no_proposal()
    {
        var column = Column("Device", "Alpha", "Alpha", "Alpha", "Beta", "Beta", "Beta");
        var proposal = Assert.Single(Proposer.Propose([column], FieldDictionary.Shipped.Of(FieldDictionary.Attempt), Words));
        Assert.Null(proposal.Field);
        Assert.Contains(proposal.Considered, candidate => candidate.Field.Name == "device");
    }

    [Fact]
    public void Two_columns_that_claim_one_field_are_both_left_open()
    {
        var columns = new[] { Column("SpO2 lowest", "90", "85"), Column("Lowest SpO2", "91", "84"), Column("Sex", "M", "F") };
        Assert.Equal([null, null, "sex"], Proposer.Propose(columns, FieldDictionary.Shipped.Of(FieldDictionary.Procedure), Words)
            .Select(proposal => proposal.Field?.Name));
    }

    [Theory]
    [InlineData("cardiac_arrest", "0 1 0")]
    [InlineData("vasopressor_given", "0 1 0")]
    [InlineData("Oxygen", "90 91 92")]
    public void A_heading_that_could_be_two_things_is_left_open(string heading, string cells) =>
        Assert.Null(Assert.Single(Proposer.Propose([Column(heading, cells.Split(' '))],
            FieldDictionary.Shipped.Of(FieldDictionary.Procedure), Words)).Field);

    [Fact]
    public void A_field_whose_values_the_cells_are_not_is_never_proposed()
    {
        var proposals = Proposer.Propose([Column("Date", "yesterday", "today"), Column("SpO2 lowest", "low", "high"),
            Column("Age", "350", "420")], FieldDictionary.Shipped.Of(FieldDictionary.Procedure), Words);
        Assert.All(proposals, proposal => Assert.Null(proposal.Field));
    }

    [Theory]
    [InlineData("Attempt 1 device|Attempt 2 device|Age", "Attempt {n} *")]
    [InlineData("attempt1_device|attempt1_outcome", "attempt{n}_*")]
    [InlineData("Attempts|Age|SpO2 at 2 min", null)]
    public void Attempts_in_columns_are_recognised(string headings, string? pattern) =>
        Assert.Equal(pattern, WideGroups.Find([.. headings.Split('|')])?.Pattern);

    [Fact]
    public void A_legend_in_the_heading_explains_numbers()
    {
        var table = CodeTable.Of(Column("Urgency (1=arrest, 2=emergency, 3=urgent, 4=planned)", "1", "3", "4"), Field("urgency"), Words);
        Assert.Equal(["1 immediate_arrest_or_periarrest", "3 urgent", "4 planned"],
            table.Words.Select(word => $"{word.Word.Word} {word.Value}"));
        Assert.All(CodeTable.Of(Column("Senior present", "1", "2"), Field("senior_present"), Words).Words, word => Assert.Null(word.Value));
    }

    // The rest of a heading is somebody's text: whatever it holds must come back from the draft as it was.
    [Theory]
    [InlineData("a \"b\" \\ c: # d")]
    [InlineData("tab\tand\nline")]
    public void A_heading_is_quoted_so_that_it_reads_back(string heading) =>
        Assert.Equal(heading, Outcomes.Measures.Yaml.YamlFile.Read("x: " + DraftText.Quoted(heading), "t").Map("x").Text("x"));

    private static Field Field(string name) => FieldDictionary.Shipped.Find(FieldDictionary.Procedure, name)!;

    private static ColumnProfile Column(string heading, params string[] cells) =>
        ColumnProfile.Of(new ExportSample([heading], ',', [.. cells.Select((cell, i) => new SampleRow(i + 2, [cell]))], 0, false), heading,
            0);
}
