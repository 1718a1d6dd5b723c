namespace Outcomes.Fuzz;

/// <summary>Texts that are good, to be spoilt.</summary>
internal static class SeedTexts
{
    public const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          event_time: {column: time, time: HH:mm}
          location_type: {column: place, codes: {"A&E": ed}}
          spo2_min: {column: lowest, missing: ["not seen"]}

        """;

    public const string Rows = """"
        id,day,time,place,lowest,"note, free"
        r1,2026-01-02,10:05,icu,97,"said ""no"""
        r2,2026-01-05,23:59,A&E,not seen,
        r3,2026-02-30,24:00,ward,999,=1+1
        r1,2026-01-02,10:05,icu,88,'=1

        """";

    public const string Wide = """
        table: {separator: ";", encoding: windows-1252, header_row: 2, decimal: ","}
        columns:
          record_id: {column: id}
          event_date: {column: day, date: dd/MM/yyyy}
        attempts: {wide: "attempt{n}_*", columns: {device: {column: device}}}
        derive: {hour_band: {from_time: "time", time: HH:mm}, day_type: {from_date: day, date: dd/MM/yyyy, holidays: [2026-12-25]}}
        constants: {urgency: emergency}
        status: {column: state, deleted: [gone]}
        columns_checked: {place: "names of wards, checked by the audit lead, 2026-03-31"}

        """;

    public const string WideRows = """
        Title of the export
        id;day;time;place;attempt1_device;attempt2_device;state
        r1;02/01/2026;10:05;icu;vl;dl;
        r2;05/01/2026;23:59;ed;vl;;gone

        """;

    public const string Json = """
        [{"id": "r1", "day": "2026-01-02", "time": "10:05", "place": "icu", "lowest": 97, "ok": true},
         {"id": "r2", "day": "2026-01-05", "time": null, "place": "A\u0026E", "lowest": 8.8e1}]
        """;

    public const string JsonLines = """
        {"id": "r1", "day": "2026-01-02", "time": "10:05", "place": "icu", "lowest": 97}
        {"id": "r2", "day": "2026-01-05", "place": "ward", "lowest": -0.0}

        """;

    public const string Counts = """
        month,count,source,site
        2026-01,31,tubes issued,north
        2026-02,28,tubes issued,south

        """;

    public const string Pipeline = """
        name: harbour
        as_of: 2026-03-31
        sources:
          records: {file: export.csv, mapping: mapping.yaml, exported: 2026-03-01}
        strata: [location_type, hour_band]
        headline: [first_pass, spo2_below_90]
        baseline: {from: 2023-04, months: 12}
        case_mix: {measure: [first_pass]}
        assume: {urgency: emergency}
        tolerance: 0.05

        """;

    public const string Flags = """
        - id: late
          title: Late
          tier: review
          when: spo2_min < 80 and urgency = 'emergency'
          why: For the test.
          source: Invented.
          examples:
            - {given: {spo2_min: 70, urgency: emergency}, expect: fires}

        """;

    public const string Workbook = """
        <workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"
          xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">
        <workbookPr date1904="0"/>
        <sheets>
        <sheet name="Data" sheetId="1" r:id="rId1"/></sheets></workbook>
        """;

    public const string Relations = """
        <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
        <Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet"
          Target="worksheets/sheet1.xml"/>
        <Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
          Target="sharedStrings.xml"/></Relationships>
        """;

    public const string SharedStrings = """
        <sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="5" uniqueCount="5">
        <si>
        <t>id</t></si>
        <si>
        <t>day</t></si>
        <si>
        <t>time</t></si>
        <si>
        <t>place</t></si>
        <si>
        <t>lowest</t></si></sst>
        """;

    public const string Sheet = """
        <worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
        <dimension ref="A1:E3"/>
        <sheetData>
        <row r="1">
        <c r="A1" t="s">
        <v>0</v></c>
        <c r="B1" t="s">
        <v>1</v></c>
        <c r="C1" t="s">
        <v>2</v></c>
        <c r="D1" t="s">
        <v>3</v></c>
        <c r="E1" t="s">
        <v>4</v></c></row>
        <row r="2">
        <c r="A2" t="inlineStr">
        <is>
        <t>r1</t></is></c>
        <c r="B2">
        <v>46024</v></c>
        <c r="C2">
        <v>0.42</v></c>
        <c r="D2" t="str">
        <f>A1</f>
        <v>icu</v></c>
        <c r="E2" t="e">
        <v>#N/A</v></c></row>
        <row r="3">
        <c r="A3" t="inlineStr">
        <is>
        <t>r2</t></is></c>
        <c r="E3" t="b">
        <v>1</v></c></row></sheetData>
        <mergeCells count="1">
        <mergeCell ref="D1:E1"/></mergeCells></worksheet>
        """;

    public const string Types = """
        <Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
        <Default Extension="xml" ContentType="application/xml"/></Types>
        """;

    public static string Measure(string condition) => $$"""
        id: measure
        title: Tube at the first attempt
        kind: proportion
        eligible: '{{condition}}'
        met: '{{condition}}'
        direction: up
        why: Invented.
        source: Invented.
        examples:
          - {given: {attempts_total: 1}, expect: met}

        """;
}
