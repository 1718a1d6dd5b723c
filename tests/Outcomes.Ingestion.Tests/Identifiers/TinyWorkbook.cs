using System.IO.Compression;
using System.Security;
using System.Text;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>Writes workbooks of a few cells, with parts that a test adds (Office Open XML, ECMA-376).</summary>
internal static class TinyWorkbook
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Package = "http://schemas.openxmlformats.org/package/2006/relationships";

    /// <summary>A workbook of sheets, the first of which is visible.</summary>
    /// <param name="sheets">Each with its state and its rows, cells separated by bars.</param>
    /// <param name="definedNames">Elements of the workbook part.</param>
    /// <param name="parts">Further parts by path.</param>
    public static byte[] Of((string State, string[] Rows)[] sheets, string definedNames = "", params (string Path, string Xml)[] parts)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            void Add(string path, string xml)
            {
                using var entry = new StreamWriter(zip.CreateEntry(path).Open(), new UTF8Encoding(false));
                entry.Write("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n" + xml);
            }

            var numbers = Enumerable.Range(1, sheets.Length).ToArray();
            Add("[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">"
                + "<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>"
                + "<Default Extension=\"xml\" ContentType=\"application/xml\"/><Override PartName=\"/xl/workbook.xml\" "
                + "ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/></Types>");
            Add("_rels/.rels", $"<Relationships xmlns=\"{Package}\"><Relationship Id=\"rId1\" Type=\"{Office}/officeDocument\" "
                + "Target=\"xl/workbook.xml\"/></Relationships>");
            Add("xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Office}\"><sheets>" + string.Concat(numbers.Select(i =>
                $"<sheet name=\"S{i}\" sheetId=\"{i}\" state=\"{sheets[i - 1].State}\" r:id=\"rId{i}\"/>")) + "</sheets>"
                + (definedNames.Length > 0 ? $"<definedNames>{definedNames}</definedNames>" : "") + "</workbook>");
            Add("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{Package}\">" + string.Concat(numbers.Select(i =>
                $"<Relationship Id=\"rId{i}\" Type=\"{Office}/worksheet\" Target=\"worksheets/sheet{i}.xml\"/>")) + "</Relationships>");
            foreach (var i in numbers) Add($"xl/worksheets/sheet{i}.xml", Sheet(sheets[i - 1].Rows));
            foreach (var (path, xml) in parts) Add(path, xml);
        }

        return bytes.ToArray();
    }

    /// <summary>The relations of the first sheet to one part.</summary>
    public static (string Path, string Xml) FirstSheetTo(string type, string target) => ("xl/worksheets/_rels/sheet1.xml.rels",
        $"<Relationships xmlns=\"{Package}\"><Relationship Id=\"rId1\" Type=\"{Office}/{type}\" Target=\"{target}\"/></Relationships>");

    private static string Sheet(string[] rows) => $"<worksheet xmlns=\"{Main}\"><sheetData>" + string.Concat(rows.Select((row, r) =>
        $"<row r=\"{r + 1}\">" + string.Concat(row.Split('|').Select((cell, c) =>
            $"<c r=\"{(char)('A' + c)}{r + 1}\" t=\"inlineStr\"><is><t>{SecurityElement.Escape(cell)}</t></is></c>")) + "</row>"))
        + "</sheetData></worksheet>";
}
