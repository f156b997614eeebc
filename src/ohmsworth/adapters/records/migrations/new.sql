CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL,
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
)

CREATE TABLE card (
	number BIGINT NOT NULL,
	kind TEXT NOT NULL,
	opened DATETIME NOT NULL,
	CONSTRAINT pk_card PRIMARY KEY (number)
)

CREATE TABLE line (
	card BIGINT NOT NULL,
	number BIGINT NOT NULL,
	"key" TEXT NOT NULL,
	kind TEXT NOT NULL,
	"by" TEXT NOT NULL,
	at DATETIME NOT NULL,
	about BIGINT,
	reason TEXT NOT NULL,
	fields JSON NOT NULL,
	CONSTRAINT pk_line PRIMARY KEY (card, number),
	CONSTRAINT uq_line_key UNIQUE ("key"),
	CONSTRAINT fk_line_card_card FOREIGN KEY(card) REFERENCES card (number),
	CONSTRAINT fk_line_card_about_line FOREIGN KEY(card, about) REFERENCES line (card, number)
)

CREATE INDEX ix_line_card_about_number ON line (card, about, number)

CREATE TABLE content (
	card BIGINT NOT NULL,
	number BIGINT NOT NULL,
	bytes BLOB NOT NULL,
	sha256 TEXT NOT NULL,
	CONSTRAINT pk_content PRIMARY KEY (card, number),
	CONSTRAINT fk_content_card_number_line FOREIGN KEY(card, number) REFERENCES line (card, number)
)

CREATE TABLE setting_line (
	number BIGINT NOT NULL,
	name TEXT NOT NULL,
	value TEXT NOT NULL,
	"by" TEXT NOT NULL,
	at DATETIME NOT NULL,
	CONSTRAINT pk_setting_line PRIMARY KEY (number)
)

CREATE INDEX ix_setting_line_name_number ON setting_line (name, number)

CREATE TABLE reading (
	card BIGINT NOT NULL,
	number BIGINT NOT NULL,
	taken_in BIGINT,
	specimen_card BIGINT,
	specimen TEXT NOT NULL,
	condition TEXT NOT NULL,
	contact TEXT NOT NULL,
	mating TEXT NOT NULL,
	polarity TEXT NOT NULL,
	voltage_text TEXT,
	voltage_unit TEXT,
	voltage DOUBLE,
	current_text TEXT,
	current_unit TEXT,
	current DOUBLE,
	resistance_text TEXT,
	resistance_unit TEXT,
	resistance DOUBLE,
	temperature_text TEXT,
	temperature_unit TEXT,
	temperature DOUBLE,
	time TEXT,
	read_at DATETIME,
	operator TEXT NOT NULL,
	note TEXT NOT NULL,
	step BIGINT,
	others JSON NOT NULL,
	CONSTRAINT pk_reading PRIMARY KEY (card, number),
	CONSTRAINT fk_reading_card_number_line FOREIGN KEY(card, number) REFERENCES line (card, number),
	CONSTRAINT fk_reading_specimen_card_card FOREIGN KEY(specimen_card) REFERENCES card (number)
)

CREATE INDEX ix_reading_specimen_card ON reading (specimen_card)

CREATE INDEX ix_reading_card_taken_in_number ON reading (card, taken_in, number)

CREATE TABLE face (
	card BIGINT NOT NULL,
	kind TEXT NOT NULL,
	title TEXT NOT NULL,
	state TEXT NOT NULL,
	text TEXT NOT NULL,
	search TEXT NOT NULL,
	due DATE,
	due_for TEXT NOT NULL,
	touched DATETIME NOT NULL,
	lines BIGINT NOT NULL, figures JSON,
	CONSTRAINT pk_face PRIMARY KEY (card),
	CONSTRAINT fk_face_card_card FOREIGN KEY(card) REFERENCES card (number)
)

CREATE INDEX ix_face_kind_touched_card ON face (kind, touched, card)

CREATE INDEX ix_face_touched_card ON face (touched, card)

CREATE INDEX ix_face_due_card ON face (due, card)

CREATE TABLE account (
	folded TEXT NOT NULL,
	name TEXT NOT NULL,
	hash TEXT NOT NULL,
	role TEXT NOT NULL,
	disabled BOOLEAN NOT NULL,
	created DATETIME NOT NULL,
	CONSTRAINT pk_account PRIMARY KEY (folded)
)

CREATE TABLE sign_in (
	token_hash TEXT NOT NULL,
	account TEXT NOT NULL,
	created DATETIME NOT NULL,
	last_seen DATETIME NOT NULL,
	expires DATETIME NOT NULL,
	CONSTRAINT pk_sign_in PRIMARY KEY (token_hash),
	CONSTRAINT fk_sign_in_account_account FOREIGN KEY(account) REFERENCES account (folded)
)

CREATE INDEX ix_sign_in_account ON sign_in (account)

CREATE TABLE token (
	hash TEXT NOT NULL,
	name TEXT NOT NULL,
	role TEXT NOT NULL,
	created DATETIME NOT NULL,
	revoked DATETIME,
	CONSTRAINT pk_token PRIMARY KEY (hash),
	CONSTRAINT uq_token_name UNIQUE (name)
)

CREATE TRIGGER card_no_update BEFORE UPDATE ON card BEGIN SELECT RAISE(ABORT, 'only grows: card'); END

CREATE TRIGGER card_no_delete BEFORE DELETE ON card BEGIN SELECT RAISE(ABORT, 'only grows: card'); END

CREATE TRIGGER card_no_replace BEFORE INSERT ON card WHEN EXISTS (SELECT 1 FROM card WHERE number = NEW.number) BEGIN SELECT RAISE(ABORT, 'only grows: card'); END

CREATE TRIGGER line_no_update BEFORE UPDATE ON line BEGIN SELECT RAISE(ABORT, 'only grows: line'); END

CREATE TRIGGER line_no_delete BEFORE DELETE ON line BEGIN SELECT RAISE(ABORT, 'only grows: line'); END

CREATE TRIGGER line_no_replace BEFORE INSERT ON line WHEN EXISTS (SELECT 1 FROM line WHERE card = NEW.card AND number = NEW.number OR key = NEW.key) BEGIN SELECT RAISE(ABORT, 'only grows: line'); END

CREATE TRIGGER reading_no_update BEFORE UPDATE ON reading BEGIN SELECT RAISE(ABORT, 'only grows: reading'); END

CREATE TRIGGER reading_no_delete BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'only grows: reading'); END

CREATE TRIGGER reading_no_replace BEFORE INSERT ON reading WHEN EXISTS (SELECT 1 FROM reading WHERE card = NEW.card AND number = NEW.number) BEGIN SELECT RAISE(ABORT, 'only grows: reading'); END

CREATE TRIGGER content_no_update BEFORE UPDATE ON content BEGIN SELECT RAISE(ABORT, 'only grows: content'); END

CREATE TRIGGER content_no_delete BEFORE DELETE ON content BEGIN SELECT RAISE(ABORT, 'only grows: content'); END

CREATE TRIGGER content_no_replace BEFORE INSERT ON content WHEN EXISTS (SELECT 1 FROM content WHERE card = NEW.card AND number = NEW.number) BEGIN SELECT RAISE(ABORT, 'only grows: content'); END

CREATE TRIGGER setting_line_no_update BEFORE UPDATE ON setting_line BEGIN SELECT RAISE(ABORT, 'only grows: setting_line'); END

CREATE TRIGGER setting_line_no_delete BEFORE DELETE ON setting_line BEGIN SELECT RAISE(ABORT, 'only grows: setting_line'); END

CREATE TRIGGER setting_line_no_replace BEFORE INSERT ON setting_line WHEN EXISTS (SELECT 1 FROM setting_line WHERE number = NEW.number) BEGIN SELECT RAISE(ABORT, 'only grows: setting_line'); END

CREATE TRIGGER line_no_gap BEFORE INSERT ON line WHEN NEW.number <> 1 + (SELECT coalesce(max(number), 0) FROM line WHERE card = NEW.card) BEGIN SELECT RAISE(ABORT, 'a gap in the log'); END

INSERT INTO alembic_version (version_num) VALUES ('0002')
