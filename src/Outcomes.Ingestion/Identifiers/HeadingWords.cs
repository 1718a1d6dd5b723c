using System.Collections.Frozen;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Words of headings under which hospitals' exports carry names, numbers, addresses and staff identities: English, German, French,
/// Spanish, Italian, Dutch, Swedish, Danish, Norwegian, Finnish. General vocabulary, compiled for this tool; written in small letters
/// without accents, as <see cref="HeaderScreen"/> folds headings.
/// </summary>
internal static class HeadingWords
{
    /// <summary>Whole headings, their words run together.</summary>
    public static readonly FrozenSet<string> Whole = Set(
        "nhs nhsnumber nhsno nhsid chi chino chinumber hcnumber hcno healthandcarenumber hospitalnumber hospitalno "
        + "hospitalid hospno hospid "
        + "mrn medicalrecordnumber unitnumber unitno casenotenumber casenotes casenote name names fullname knownas preferredname nickname "
        + "maidenname middlename mobile cell home zip street streetname streetaddress housenumber houseno housename contact contactdetails "
        + "contactinfo nextofkin nok carer guardian deviceserial serialnumber bednumber bed photo photograph imagefile imagefilename "
        + "imagename filename photofile numberplate carreg vehiclereg vehicleregistration licenceplate user userid "
        // German, French
        + "tel fax strasse str hausnr wohnadresse rufnummer mobil nom noms rue portable mail courriel "
        // Spanish, Italian, Dutch
        + "nombre nombres calle movil correo domicilio nome nomi cellulare recapito naam namen straat mobiel adres "
        // Swedish, Danish, Norwegian, Finnish
        + "namn adress mobilnr gata navn adresse vej vei tlf nimi osoite puh matkapuhelin");

    /// <summary>Words that mean one thing wherever they stand: "Pt DOB", "Surname (maiden)", "Consultant GMC no".</summary>
    public static readonly FrozenSet<string> Anywhere = Set(
        "mrn surname surnames forename forenames postcode postcodes zipcode postalcode gmc nmc hcpc initials email emails telephone "
        + "telephones phone phones telephoneno phoneno phonenumber mobileno mobilenumber payroll passport nok signature username login ssn "
        + "nino uhid aadhaar address addresses addr firstname lastname familyname givenname patientname patientid patientno patientnumber "
        + "patientsname ptname ptno ptid staffname operatorname doctorname consultantname nursename staffno staffnumber staffid "
        + "emailaddress homeaddress homephone nhsnumber nhsno chinumber hospitalnumber hospitalno gmcno gmcnumber nmcpin nmcnumber "
        // German
        + "nachname nachnamen vorname vornamen familienname geburtsname rufname anschrift postleitzahl plz telefon "
        + "telefonnummer telefonnr handy "
        + "handynummer mobilnummer faxnummer patientenname patientennummer patientennr patientenid patientenkennung patid "
        + "patnr pid fallnummer "
        + "fallnr aufnahmenummer aufnahmenr versichertennummer versichertennr krankenversichertennummer "
        + "krankenversicherungsnummer kvnr kvnummer "
        + "sozialversicherungsnummer svnr svnummer personalnummer personalnr arztname hausarzt unterschrift namenskurzel "
        + "initialen steuernummer "
        + "steuerid ausweisnummer ahvnummer emailadresse "
        // French
        + "prenom prenoms patronyme codepostal numerotelephone ipp nir rpps matricule initiales nompatient nompatronymique "
        // Spanish
        + "apellido apellidos telefono telefonos direccion codigopostal nhc dni nie nif iniciales firma numhistoria nombrepaciente "
        // Italian
        + "cognome cognomi indirizzo codicefiscale nosologico iniziali matricola nomepaziente "
        // Dutch
        + "achternaam voornaam voornamen familienaam voorletters telefoon telefoonnummer huisnummer burgerservicenummer bsn patientnummer "
        + "patientnr patientennummer patientnaam handtekening huisarts personeelsnummer bignummer rijksregisternummer straatnaam "
        // Swedish, Danish, Norwegian
        + "efternamn fornamn personnummer personnr gatuadress postnummer postnr epost epostadress patientnamn patientnavn "
        + "initialer underskrift "
        + "samordningsnummer reservnummer hsaid efternavn fornavn etternavn cprnr cprnummer telefonnr mobilnr fodselsnummer fodselsnr fnr "
        + "pasientnummer pasientnavn mobiltelefon "
        // Finnish
        + "sukunimi etunimi etunimet henkilotunnus hetu katuosoite postinumero puhelin puhelinnumero sahkoposti "
        + "potilasnumero potilastunnus "
        + "nimikirjaimet allekirjoitus potilaannimi");

    /// <summary>The same in several words, each separated by one blank.</summary>
    public static readonly string[] Runs =
    [
        "nhs number", "nhs no", "nhs num", "chi number", "chi no", "post code", "e mail", "hospital number", "hospital no", "hosp no",
        "hosp number", "hosp num", "first name", "last name", "family name", "given name", "middle name", "maiden name", "known as",
        "home address", "next of kin", "medical record", "case note number", "contact number", "contact no", "contact phone", "zip code",
        "postal code", "mobile no", "mobile number", "mobile phone", "cell phone", "social security",
        "national insurance", "account number",
        "accession number", "accession no", "licence number", "license number", "number plate", "user name", "street address", "image file",
        "photo file", "insurance number", "insurance no", "medicare number", "medicare no", "health card number", "driving licence",
        "tel no", "tel nr", "tel number", "e post", "code postal", "codigo postal", "codice fiscale",
        "codice sanitario", "tessera sanitaria",
        "numero di telefono", "numero de telefono", "numero de telephone", "n de telephone", "correo electronico", "historia clinica",
        "tarjeta sanitaria", "numero de dossier", "numero dossier", "n dossier", "securite sociale", "seguridad social", "nom de famille",
        "nom de naissance", "nom usuel", "nom de jeune fille", "medecin traitant", "numero cartella",
        "cartella clinica", "cpr nr", "cpr nummer",
        "cpr number", "cpr no", "hsa id", "big nummer", "pat id", "pat nr", "pat name", "fall nr", "fall nummer", "kv nummer", "kv nr",
        "sv nummer", "steuer id", "ahv nr", "ahv nummer", "fodsels nr", "person nr", "medical card number", "pps number", "pps no",
    ];

    /// <summary>The same for dates of birth, whose days are themselves the identifier.</summary>
    public static readonly string[] BirthRuns =
    [
        "dob", "d o b", "date of birth", "birth date", "birthdate", "birthday", "birth day", "dateofbirth", "ptdob", "patientdob",
        "geburtsdatum", "geburtstag", "geb datum", "geb dat", "gebdat", "gebdatum", "geboren am", "date de naissance", "date naissance",
        "datenaissance", "ddn", "ne le", "nee le", "fecha de nacimiento", "fecha nacimiento", "fechanacimiento", "f nacimiento",
        "data di nascita", "data nascita", "datanascita", "nato il", "nata il", "geboortedatum", "geboorte datum", "geb dd", "fodelsedatum",
        "fodelsedag", "fodselsdato", "fodselsdag", "fodt", "fodd", "syntymaaika", "syntymapaiva", "syntynyt",
    ];

    /// <summary>Words for a name, which may also be that of a thing.</summary>
    public static readonly FrozenSet<string> Names = Set("name names nom nome nomi naam namn navn nimi");

    /// <summary>Words for a number, which may also be a count or a thing's.</summary>
    public static readonly FrozenSet<string> Numbers =
        Set("number no num nr id ident identifier nummer numero numer tunnus identificativo");

    /// <summary>Words for patients.</summary>
    public static readonly FrozenSet<string> Patients = Set(
        "patient patients pt pts pat client patientin patienten patiente paciente pacientes paziente pazienti pasient "
            + "pasienten potilas potilaan");

    /// <summary>Words for staff and others around a patient.</summary>
    public static readonly FrozenSet<string> Others = Set(
        "staff operator operators doctor doctors dr consultant consultants nurse nurses anaesthetist anesthetist "
        + "anaesthesiologist intensivist "
        + "registrar surgeon physician paramedic practitioner clinician intubator laryngoscopist assistant recorder "
        + "supervisor trainer trainee "
        + "gp referrer mother father relative person employee member user "
        + "arzt arztin oberarzt chefarzt pfleger pflegekraft schwester anasthesist operateur hebamme medecin docteur infirmier infirmiere "
        + "anesthesiste chirurgien operateur medico medica enfermero enfermera anestesista cirujano chirurgo infermiere infermiera arts "
        + "verpleegkundige anesthesioloog chirurg lakare sjukskoterska narkoslakare laege sygeplejerske lege sykepleier anestesilege "
        + "laakari hoitaja sairaanhoitaja");

    /// <summary>Words that may stand beside one of those without another meaning: "Consultant in charge", "Operator 1".</summary>
    public static readonly FrozenSet<string> Fillers = Set(
        "the of in on a an and charge call responsible treating attending named primary first second third lead senior duty admitting "
        + "1 2 3 4 der die das den behandelnder zustandiger le la el il lo de du del di da van ansvarig ansvarlig "
        + "responsable tratante curante "
        + "behandelend vastuu");

    /// <summary>What a person did with a record, before "by".</summary>
    public static readonly FrozenSet<string> Deeds = Set(
        "seen entered completed performed done recorded reported signed checked input filled written authored intubated "
        + "supervised assisted "
        + "reviewed submitted created updated inserted collected audited ausgefullt erfasst saisi rellenado compilato ingevuld");

    /// <summary>Words for "by".</summary>
    public static readonly FrozenSet<string> By = Set("by von par por da door av af");

    /// <summary>
    /// What is done about such a thing: "E-mail sent", "Telephone advice given", "DOB known", "Initials checked". Such a column says
    /// whether or when, and its cells are searched as those of any other.
    /// </summary>
    public static readonly FrozenSet<string> Acts = Set(
        "sent given known checked check recorded documented confirmed verified advice informed discussed contacted consulted consultation "
        + "completed done made available required requested matches matched correct obtained offered received reviewed "
        + "asked unknown updated "
        + "provided reminder reminded returned visible advised "
        + "gesendet gesandt bekannt gepruft erfolgt dokumentiert bestatigt vorhanden kontrolliert beratung informiert kontaktiert "
        + "envoye envoyee connu connue verifie verifiee controle controlee donne donnee confirme documente conseil "
        + "enviado enviada conocido "
        + "conocida comprobado comprobada verificado verificada confirmado confirmada registrado consejo inviato inviata "
        + "noto nota verificato "
        + "verificata controllato controllata confermato consiglio verzonden bekend gecontroleerd bevestigd gegeven advies "
        + "skickat skickad skickade kand kant kanda kontrollerad kontrollerat kontrollerade kontrollerte kjente kendte "
        + "bekannte connues conocidas "
        + "comprobadas verificate controllate bekende bekraftad radgivning sendt kendt kjent kontrolleret kontrollert "
        + "bekraeftet bekreftet "
        + "radgivning lahetetty tunnettu tarkistettu vahvistettu neuvonta");

    /// <summary>Answers under a heading of that kind that name nobody.</summary>
    public static readonly FrozenSet<string> Answers = Set(
        "yes no y n true false na nil none unknown unclear ja nein j oui non o si sim kylla ei nee nej nei tak done given sent known "
        + "recorded present absent complete completed checked ok tick ticked missing notknown notrecorded notdone "
        + "notapplicable notgiven unbekannt "
        + "inconnu desconocido sconosciuto onbekend okand ukendt ukjent tuntematon keine aucun ninguno nessuno geen ingen");

    private static FrozenSet<string> Set(string words) =>
        words.Split(' ', StringSplitOptions.RemoveEmptyEntries).ToFrozenSet(StringComparer.Ordinal);
}
