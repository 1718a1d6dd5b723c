using System.Text;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Stripping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>What lies in a workbook beside the sheet that is read.</summary>
public class WorkbookSearchTests
{
    private const string Core = "<cp:coreProperties xmlns:cp=\"http://schemas.openxmlformats.org/package/2006/metadata/core-properties\" "
        + "xmlns:dc=\"http://purl.org/dc/elements/1.1/\">{0}</cp:coreProperties>";

    private static readonly string[] Table = ["record_id|event_date", "R1|2024-01-31", "R2|2024-02-01"];

    [Theory]
    [InlineData("hidden")]
    [InlineData("veryHidden")]
    public void A_hidden_sheet_is_searched_as_a_table(string state)
    {
        string[] names = ["Ann Exampleton", "Ben Fenwickson", "Cara Grayling", "Dev Hollins", "Ella Ibbotson", "Finn Jessop", "Gwen Kettle",
            "Hugo Lambton", "Iris Mossley", "Jack Norcott"];
        foreach (var (rows, rule, line) in ((string[], string, int)[])[
            (["who", "999 000 0018"], "identifying_hidden_sheet", 2),
            (["note", "", "write to a.person@example.org"], "identifying_hidden_sheet", 3),
            (["Surname", "Example"], "identifying_hidden_sheet", 2),
            (["x", .. names], "identifying_hidden_sheet", 0)])
        {
            var failure = Refused(TinyWorkbook.Of([("visible", Table), (state, rows)]));
            Assert.Equal((ExitCode.Input, rule, line), (failure.Code, failure.Rule, failure.Line));
            Assert.Contains("sheet 2", failure.Message, StringComparison.Ordinal);
            Assert.DoesNotContain(rows[^1], failure.ToString(), StringComparison.Ordinal);
        }

        Assert.Equal(["identifying_hidden_sheet 3: Sheet 2, which is not the one that is read, "
            + "holds what may be an identifier of a person; "
            + "look at it, and remove it from the workbook before you export again."],
            Noted(TinyWorkbook.Of([("visible", Table), (state, ["x", "fine", "seen by Dr Example"])])));
        Assert.Empty(Noted(TinyWorkbook.Of([("visible", Table), (state, ["Code|Meaning", "1|Intensive Care", "2|Emergency Department"])])));
    }

    [Fact]
    public void A_visible_sheet_refuses_by_a_cell_and_not_by_its_columns()
    {
        Assert.Equal("identifying_hidden_sheet", Refused(TinyWorkbook.Of([("visible", Table), ("visible", ["x", "a@example.org"])])).Rule);
        Assert.Empty(Noted(TinyWorkbook.Of([("visible", Table), ("visible", ["x", "seen by Dr Example"])])));
    }

    [Fact]
    public void Comments_and_threaded_comments_name_their_cell()
    {
        byte[] Commented(string text) =>
            TinyWorkbook.Of([("visible", Table)], "", TinyWorkbook.FirstSheetTo("comments", "../comments1.xml"),
                ("xl/comments1.xml",
                    "<comments xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><authors><author>au</author>"
                        + $"</authors><commentList><comment ref=\"B3\" authorId=\"0\"><text><r><t>see "
                        + $"</t></r><r><t>{text}</t></r></text></comment>"
                        + "</commentList></comments>"));
        byte[] Threaded(string text) => TinyWorkbook.Of([("visible", Table)], "",
            TinyWorkbook.FirstSheetTo("threadedComment", "../threadedComments/threadedComment1.xml"),
            ("xl/threadedComments/threadedComment1.xml", "<ThreadedComments xmlns=\"http://schemas.microsoft.com/office/spreadsheetml/2018/"
                + $"threadedcomments\"><threadedComment ref=\"B3\" personId=\"p\" "
                + $"id=\"i\"><text>see {text}</text></threadedComment></ThreadedComments>"));
        foreach (var workbook in (Func<string, byte[]>[])[Commented, Threaded])
        {
            var failure = Refused(workbook("999 000 0018"));
            Assert.Equal(("identifying_comment", 3), (failure.Rule, failure.Line));
            Assert.Contains("the comment on a cell of column 2 of sheet 1", failure.Message, StringComparison.Ordinal);
            Assert.Single(Noted(workbook("Dr Example")));
            Assert.Empty(Noted(workbook("the trace")));
        }
    }

    [Fact]
    public void Those_who_wrote_threaded_comments_are_searched() => Assert.Equal("identifying_comment", Refused(TinyWorkbook.Of(
        [("visible", Table)], "", ("xl/persons/person.xml", "<personList xmlns=\"http://schemas.microsoft.com/office/spreadsheetml/2018/"
            + "threadedcomments\"><person displayName=\"au\" id=\"p\" userId=\"a.person@example.org\"/></personList>"))).Rule);

    [Theory]
    [InlineData("<dc:title>export for 999 000 0018</dc:title>", "title")]
    [InlineData("<cp:keywords>a@example.org</cp:keywords>", "keywords")]
    [InlineData("<dc:description>lives at EC1A 1BB</dc:description>", "description")]
    public void A_property_refuses_by_its_name(string property, string name)
    {
        var failure = Refused(Properties(property));
        Assert.Equal("identifying_document_property", failure.Rule);
        Assert.Contains($"property `{name}`", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_author_s_name_is_a_warning_and_a_program_s_is_none()
    {
        Assert.Contains("the workbook's property `creator`", Assert.Single(Noted(Properties("<dc:creator>Anna Example</dc:creator>"))),
            StringComparison.OrdinalIgnoreCase);
        Assert.Empty(Noted(Properties("<dc:creator>openpyxl</dc:creator>")));
        Assert.Equal("identifying_document_property", Refused(TinyWorkbook.Of([("visible", Table)], "", ("docProps/custom.xml",
            "<Properties xmlns=\"http://schemas.openxmlformats.org/officeDocument/2006/custom-properties\" xmlns:vt=\"http://schemas."
                + "openxmlformats.org/officeDocument/2006/docPropsVTypes\"><property "
                + "name=\"for\"><vt:lpwstr>a@example.org</vt:lpwstr></property>"
                + "</Properties>"))).Rule);
    }

    [Fact]
    public void Defined_names_are_searched_by_name_and_value()
    {
        Assert.Equal("identifying_defined_name", Refused(TinyWorkbook.Of([("visible", Table)],
            "<definedName name=\"x\">\"999 000 0018\"</definedName>")).Rule);
        Assert.Single(Noted(TinyWorkbook.Of([("visible", Table)], "<definedName name=\"Dr_Example\">S1!$A$1:$B$3</definedName>")));
        Assert.Empty(Noted(TinyWorkbook.Of([("visible", Table)], "<definedName name=\"_xlnm.Print_Area\">S1!$A$1:$B$3</definedName>"
            + "<definedName name=\"Grades\">S1!$A$1:$A$1048576</definedName>")));
    }

    [Theory]
    [InlineData("xl/pivotCache/pivotCacheDefinition1.xml",
        "<pivotCacheDefinition><sharedItems><s v=\"999 000 0018\"/></sharedItems></pivotCacheDefinition>")]
    [InlineData("xl/drawings/drawing1.xml", "<wsDr><txBody><t>a@example.org</t></txBody></wsDr>")]
    [InlineData("xl/worksheets/_rels/sheet1.xml.rels",
        "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
            + "<Relationship Id=\"rId1\" Type=\"x\" Target=\"mailto:a@example.org\" TargetMode=\"External\"/></Relationships>")]
    public void Other_parts_are_searched(string path, string xml) =>
        Assert.Equal("identifying_workbook_part", Refused(TinyWorkbook.Of([("visible", Table)], "", (path, xml))).Rule);

    [Fact]
    public void A_copy_holds_nothing_of_them()
    {
        using var place = new Workplace();
        var path = place.File(TinyWorkbook.Of([("visible", Table), ("hidden", ["who", "999 000 0018"])]));
        Strip.Write(path, "x.xlsx", path + ".csv", null, Maps.Dictionary);
        Assert.Equal(2, place.Read(File.ReadAllText(path + ".csv", Encoding.UTF8), Maps.Of("record_id", "event_date")).Manifest.Rows);
    }

    [Fact]
    public void A_draft_is_refused_alike()
    {
        using var place = new Workplace();
        var path = place.File(TinyWorkbook.Of([("visible", Table), ("hidden", ["who", "999 000 0018"])]));
        Assert.Equal("identifying_hidden_sheet", Assert.Throws<Failure>(() => ExportSample.Read(path, "x.xlsx")).Rule);
    }

    private static byte[] Properties(string property) => TinyWorkbook.Of([("visible", Table)], "",
        ("docProps/core.xml", Core.Replace("{0}", property, StringComparison.Ordinal)));

    private static Failure Refused(byte[] workbook)
    {
        using var place = new Workplace();
        return Assert.Throws<Failure>(() => place.Read(workbook, Maps.Of("record_id", "event_date")));
    }

    private static string[] Noted(byte[] workbook)
    {
        using var place = new Workplace();
        return [.. Stored.Findings(place.Read(workbook, Maps.Of("record_id", "event_date")))
            .Select(finding => $"{CellRules.Id(finding.Rule)} {finding.Line}: {CellRules.Explain(finding.Rule, null, finding.Count)}")];
    }
}
