using CsCheck;
using Outcomes.Records;

namespace Outcomes.Tests;

public class DictionaryFileTests
{
    private static readonly string LocalPath = Path.Combine(AppContext.BaseDirectory, "fixtures", "local-fields.json");

    [Fact]
    public void A_field_is_read_whole()
    {
        var field = Shipped.Procedure("spo2_min");
        Assert.Equal((FieldType.Integer, "%", Identifying.None, true, false),
            (field.Type, field.Unit, field.Identifying, field.Core, field.Required));
        Assert.Equal((new Interval(20, 100), new Interval(40, 100)), (field.Hard, field.Plausible));
        Assert.Equal(FieldDictionary.Procedure, field.Table);
    }

    [Theory]
    [InlineData("record_id", FieldType.Text)]
    [InlineData("urgency", FieldType.Code)]
    [InlineData("indication", FieldType.Set)]
    [InlineData("cardiac_arrest_before", FieldType.YesNo)]
    [InlineData("attempts_total", FieldType.Integer)]
    [InlineData("ph_pre", FieldType.Number)]
    [InlineData("event_date", FieldType.Date)]
    [InlineData("event_time", FieldType.Time)]
    public void Types_follow_the_standard(string name, FieldType type) => Assert.Equal(type, Shipped.Procedure(name).Type);

    [Fact]
    public void Dates_count_in_days_and_times_in_minutes()
    {
        Assert.Equal(new Interval(new DateOnly(2000, 1, 1).DayNumber, null), Shipped.Procedure("event_date").Hard);
        var local = DictionaryFile.ReadLocal(LocalPath, "local.json");
        Assert.Equal(new Interval(390, null), local.Single(field => field.Name == "shift_began").Hard);
    }

    [Fact]
    public void Local_fields_add_to_both_tables_and_replace_a_shipped_field_of_the_same_name()
    {
        var local = DictionaryFile.ReadLocal(LocalPath, "local.json");
        Assert.Equal(
            [("procedure", "trolley"), ("procedure", "trolley_drawers"), ("procedure", "room_temperature_cel"),
                ("procedure", "shift_began"), ("procedure", "location_type"), ("attempt", "blade_size")],
            local.Select(field => (field.Table, field.Name)));
        var all = FieldDictionary.Shipped.With(local);
        Assert.Equal(FieldDictionary.Shipped.Fields.Length + 5, all.Fields.Length);
        Assert.Equal(["icu", "ed", "ward", "helipad"], all.Find("procedure", "location_type")!.Allowed);
        Assert.Contains("theatre", FieldDictionary.Shipped.Find("procedure", "location_type")!.Allowed);
        Assert.Null(all.Find("procedure", "blade_size"));
        Assert.Equal("blade_size", all.Find("attempt", "blade_size")!.Title);
    }

    [Fact]
    public void Missing_words_come_from_the_field_the_schema_or_the_usual_ones()
    {
        var local = DictionaryFile.ReadLocal(LocalPath, "local.json").ToDictionary(field => field.Name);
        Assert.Equal([new MissingToken("NK", MissingReason.Unknown)], local["trolley"].Missing);
        Assert.Empty(local["shift_began"].Missing);
        Assert.Equal(["not_recorded", "unknown", "withheld", "not_applicable"], local["blade_size"].Missing.Select(token => token.Word));
    }

    [Fact]
    public void One_schema_alone_is_for_the_procedure_table()
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, "\uFEFF" + OneField("\"name\": \"x\", \"type\": \"string\", \"outcomes:identifying\": \"none\""));
            Assert.Equal(FieldDictionary.Procedure, Assert.Single(DictionaryFile.ReadLocal(path, "local.json")).Table);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Theory]
    [InlineData("event_date", "date")]
    [InlineData("record_id", "string")]
    public void A_pipeline_cannot_redefine_a_key(string name, string type) =>
        Assert.Contains($"`{name}` is a key", LocalFailure(
            $"\"name\": \"{name}\", \"type\": \"{type}\", \"outcomes:identifying\": \"none\"").Message, StringComparison.Ordinal);

    [Fact]
    public void A_local_field_cannot_take_the_column_of_a_shipped_set()
    {
        var failure = LocalFailure("\"name\": \"complication_aspiration\", \"type\": \"boolean\", \"trueValues\": [\"yes\"], "
            + "\"falseValues\": [\"no\"], \"outcomes:identifying\": \"none\"");
        Assert.Contains("share the column `complication_aspiration`", failure.Message, StringComparison.Ordinal);
        Assert.Equal(3, failure.Line);
    }

    [Fact]
    public void A_missing_file_says_so()
    {
        var failure =
            Assert.Throws<Failure>(() => DictionaryFile.ReadLocal(Path.Combine(AppContext.BaseDirectory, "absent.json"), "absent.json"));
        Assert.Equal((ExitCode.Definition, "absent.json"), (failure.Code, failure.File));
        Assert.DoesNotContain(AppContext.BaseDirectory, failure.Message, StringComparison.Ordinal);
    }

    /// <summary>Each mistake is put in line 3 of the file, and the message must lead there.</summary>
    [Theory]
    [InlineData("\"type\": \"string\"", "`name` is missing")]
    [InlineData("\"name\": \"Bad Name\", \"type\": \"string\"", "no field name")]
    [InlineData("\"name\": \"x\"", "`type` is missing")]
    [InlineData("\"name\": \"x\", \"type\": \"datetime\"", "`datetime` is not used here")]
    [InlineData("\"name\": \"x\", \"type\": \"string\"", "`outcomes:identifying` is missing")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"outcomes:identifying\": \"some\"", "none, quasi or direct_risk")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"outcomes:units\": \"s\"", "unknown key `outcomes:units`")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"outcomes:unit\": \"s\"", "unknown key `outcomes:unit`")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"constraints\": {\"pattern\": \"a\"}", "unknown key `pattern`")]
    [InlineData("\"name\": \"x\", \"type\": \"integer\", \"constraints\": {\"minimum\": \"1\"}", "whole number, without quotes")]
    [InlineData("\"name\": \"x\", \"type\": \"integer\", \"constraints\": {\"minimum\": 1.5}", "whole number")]
    [InlineData("\"name\": \"x\", \"type\": \"integer\", \"constraints\": {\"minimum\": 2, \"maximum\": 1}",
        "the minimum is above the maximum")]
    [InlineData("\"name\": \"x\", \"type\": \"integer\", \"constraints\": {\"maximum\": 5}, \"outcomes:plausible\": {\"maximum\": 6}, "
        + "\"outcomes:identifying\": \"none\"", "beyond its hard range")]
    [InlineData("\"name\": \"x\", \"type\": \"number\", \"outcomes:identifying\": \"none\"", "`outcomes:decimals` is missing")]
    [InlineData("\"name\": \"x\", \"type\": \"number\", \"outcomes:decimals\": 7, \"outcomes:identifying\": \"none\"", "from 0 to 6")]
    [InlineData("\"name\": \"x\", \"type\": \"date\", \"constraints\": {\"minimum\": \"01/02/2000\"}", "as a date")]
    [InlineData("\"name\": \"x\", \"type\": \"time\", \"format\": \"%H:%M\", \"constraints\": {\"minimum\": 8}", "as a time")]
    [InlineData("\"name\": \"x\", \"type\": \"time\", \"format\": \"default\"", "\"%H:%M\"")]
    [InlineData("\"name\": \"x\", \"type\": \"boolean\", \"trueValues\": [\"1\"], \"falseValues\": [\"0\"]", "written yes or no")]
    [InlineData("\"name\": \"x\", \"type\": \"list\", \"delimiter\": \",\", \"outcomes:allowed\": [\"a\"]", "\"delimiter\": \";\"")]
    [InlineData("\"name\": \"x\", \"type\": \"list\", \"delimiter\": \";\", \"outcomes:allowed\": [\"a b\"]", "part of a column's name")]
    [InlineData("\"name\": \"x\", \"type\": \"list\", \"delimiter\": \";\", \"outcomes:allowed\": []", "is empty")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"constraints\": {\"enum\": [\"a\", \"a\"]}", "stands twice")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"categories\": [{\"value\": \"a\"}, \"a\"]", "stands twice")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"categories\": [{\"value\": \"a\", \"title\": \"A\"}]", "unknown key `title`")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"categories\": []", "is empty")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"categories\": [\"a\"], \"constraints\": {\"enum\": [\"a\"]}",
        "stand in `categories`")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"constraints\": {\"enum\": [\"unknown\"]}, \"outcomes:identifying\": \"none\"",
        "both a value")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"missingValues\": [\"\", \"-9\"], \"outcomes:identifying\": \"none\"",
        "needs a label")]
    [InlineData("\"name\": \"x\", \"type\": \"string\", \"missingValues\": [\"unknown\"], \"outcomes:identifying\": \"none\"",
        "must list the blank cell")]
    [InlineData("\"name\": \"x\", \"type\": \"integer\", \"missingValues\": [\"\", \"unrecordable\"], \"outcomes:identifying\": \"none\"",
        "only as a number whose least possible value (`minimum`) is above 0")]
    [InlineData("\"name\": \"x\", \"name\": \"y\"", "`name` stands twice")]
    [InlineData("\"name\": \"x\", \"title\": \"\\ud800\"", "save the file as UTF-8")]
    public void A_mistake_is_told_with_its_line(string field, string expected)
    {
        var failure = Assert.Throws<Failure>(() => DictionaryFile.Read(OneField(field), "fields.json", FieldDictionary.Procedure));
        Assert.Contains(expected, failure.Message, StringComparison.Ordinal);
        Assert.StartsWith("fields.json:3: ", failure.Message, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Definition, failure.Code);
    }

    [Theory]
    [InlineData("{\n\"fields\": [\n}", 3)]
    [InlineData("", 1)]
    [InlineData("{\"fields\": []} {}", 1)]
    [InlineData("[1]", 1)]
    [InlineData("{\"fields\": [], \"field\": []}", 1)]
    [InlineData("{\n\"fields\": []}", 1)]
    public void A_file_that_is_no_schema_is_refused(string json, int line)
    {
        var failure = Assert.Throws<Failure>(() => DictionaryFile.Read(json, "fields.json", FieldDictionary.Procedure));
        Assert.Equal((ExitCode.Definition, line), (failure.Code, failure.Line));
    }

    [Fact]
    public void A_file_in_another_encoding_is_refused_with_the_line()
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(path, System.Text.Encoding.Latin1.GetBytes(OneField("\"name\": \"x\", \"title\": \"\u00E9\"")));
            var failure = Assert.Throws<Failure>(() => DictionaryFile.ReadLocal(path, "local.json"));
            Assert.Equal((ExitCode.Definition, 3), (failure.Code, failure.Line));
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void A_field_defined_twice_is_refused()
    {
        const string field = "{\"name\": \"x\", \"type\": \"string\", \"outcomes:identifying\": \"none\"}";
        var failure =
            Assert.Throws<Failure>(() => DictionaryFile.Read($"{{\"fields\": [\n{field},\n{field}]}}", "fields.json", "procedure"));
        Assert.Equal(3, failure.Line);
    }

    [Fact]
    public void Any_text_gives_fields_or_a_failure_and_never_another_error()
    {
        var start =
            OneField("\"name\": \"x\", \"type\": \"integer\", \"constraints\": {\"minimum\": 1}, \"outcomes:identifying\": \"none\"");
        Gen.Select(Gen.Int[0, start.Length - 1], Gen.Int[0, 5], Gen.String[Gen.Char["{}[]\",:1a\\u0000 é"], 0, 3])
            .Sample((at, length, text) =>
            {
                try
                {
                    DictionaryFile.Read(start[..at] + text + start[Math.Min(at + length, start.Length)..], "fields.json", "procedure");
                }
                catch (Failure failure)
                {
                    Assert.Equal(ExitCode.Definition, failure.Code);
                }
            });
    }

    private static string OneField(string members) => "{\n\"fields\": [\n{" + members + "}\n]\n}\n";

    private static Failure LocalFailure(string members)
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, OneField(members));
            return Assert.Throws<Failure>(() => DictionaryFile.ReadLocal(path, "local.json"));
        }
        finally
        {
            File.Delete(path);
        }
    }
}
